using Drainboard.Data.Conversions;
using Drainboard.Domain.PotableWater;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.PotableWater;

internal sealed class WaterCaseConfiguration : IEntityTypeConfiguration<WaterCase>
{
    public void Configure(EntityTypeBuilder<WaterCase> builder)
    {
        builder.HasKey(one => one.Id);
        builder.Ignore(one => one.Actions);
        builder.Property(one => one.Words).HasMaxLength(WaterCase.LongestWords);
        builder.Property(one => one.Way).HasMaxLength(3);
        builder.Property(one => one.Done).HasJson();
        builder.Property(one => one.Version).IsConcurrencyToken();

        // Every page asks which cases of a tail run.
        builder.HasIndex(one => new { one.Tail, one.EndedAt });
    }
}
