using Drainboard.Domain.Tanks;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Tanks;

internal sealed class LayoutTanksConfiguration : IEntityTypeConfiguration<LayoutTanks>
{
    public void Configure(EntityTypeBuilder<LayoutTanks> builder)
    {
        builder.HasKey(tanks => tanks.Layout);
        builder.Property(tanks => tanks.Version).IsConcurrencyToken();
    }
}

internal sealed class PotableUpliftConfiguration : IEntityTypeConfiguration<PotableUplift>
{
    public void Configure(EntityTypeBuilder<PotableUplift> builder)
    {
        builder.HasKey(uplift => uplift.Id);
        builder.Property(uplift => uplift.Source).HasMaxLength(PotableUplift.LongestSource);
        builder.Property(uplift => uplift.Leak).HasMaxLength(ServicePanelCheck.LongestLeak);

        // A balance reads the newest services of a tail.
        builder.HasIndex(uplift => new { uplift.Tail, uplift.At });
    }
}

internal sealed class WasteServiceConfiguration : IEntityTypeConfiguration<WasteService>
{
    public void Configure(EntityTypeBuilder<WasteService> builder)
    {
        builder.HasKey(service => service.Id);
        builder.Property(service => service.Leak).HasMaxLength(ServicePanelCheck.LongestLeak);
        builder.HasIndex(service => new { service.Tail, service.At });
    }
}
