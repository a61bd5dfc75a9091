using Drainboard.Data.Conversions;
using Drainboard.Domain.PotableWater;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.PotableWater;

internal sealed class SampleSetConfiguration : IEntityTypeConfiguration<SampleSet>
{
    public void Configure(EntityTypeBuilder<SampleSet> builder)
    {
        builder.HasKey(set => set.Id);
        builder.Ignore(set => set.Positive);
        builder.Property(set => set.Samples).HasJson();
        builder.Property(set => set.VoidedWhy).HasMaxLength(SampleSet.LongestReason);
        builder.Property(set => set.Version).IsConcurrencyToken();
        builder.HasIndex(set => new { set.Tail, set.CollectedAt });
    }
}
