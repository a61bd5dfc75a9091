using Drainboard.Data.Conversions;
using Drainboard.Domain.Warnings;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Warnings;

internal sealed class FollowConfiguration : IEntityTypeConfiguration<Follow>
{
    public void Configure(EntityTypeBuilder<Follow> builder)
    {
        builder.HasKey(follow => follow.Id);
        builder.Property(follow => follow.LeadHours).HasJson();
        builder.Property(follow => follow.Version).IsConcurrencyToken();
        builder.HasIndex(follow => follow.Person);
    }
}
