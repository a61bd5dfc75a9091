using Drainboard.Data.Conversions;
using Drainboard.Domain.Network;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Network;

internal sealed class FleetPlanConfiguration : IEntityTypeConfiguration<FleetPlan>
{
    public void Configure(EntityTypeBuilder<FleetPlan> builder)
    {
        builder.ToTable("FleetPlans");
        builder.HasKey(plan => plan.Id);
        builder.Property(plan => plan.Content).HasJson();
        builder.Property(plan => plan.Version).IsConcurrencyToken();
    }
}
