using Drainboard.Data.Conversions;
using Drainboard.Domain.ShiftPlans;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.ShiftPlans;

internal sealed class StationPlanConfiguration : IEntityTypeConfiguration<StationPlan>
{
    public void Configure(EntityTypeBuilder<StationPlan> builder)
    {
        builder.ToTable("ShiftPlans");
        builder.HasKey(plan => plan.Id);
        builder.Property(plan => plan.Content).HasJson();
        builder.Property(plan => plan.Version).IsConcurrencyToken();

        // One plan a shift; the newest of a station is what people work by.
        builder.HasIndex(plan => new { plan.Station, plan.From }).IsUnique();
    }
}
