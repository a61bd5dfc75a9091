using Drainboard.Domain.PotableWater;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.PotableWater;

internal sealed class WaterDeedConfiguration : IEntityTypeConfiguration<WaterDeed>
{
    public void Configure(EntityTypeBuilder<WaterDeed> builder)
    {
        builder.HasKey(deed => deed.Id);
        builder.Property(deed => deed.Item).HasMaxLength(24);
        builder.Property(deed => deed.Words).HasMaxLength(WaterDeed.LongestWords);

        // Dues read the newest of each kind of a tail; what puts a deficiency right is found by it.
        builder.HasIndex(deed => new { deed.Tail, deed.Kind, deed.At });
        builder.Property(deed => deed.VoidedWhy).HasMaxLength(SampleSet.LongestReason);
        builder.HasIndex(deed => deed.Corrects);
    }
}
