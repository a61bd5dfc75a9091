using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Turns;

internal sealed class SectorConfiguration : IEntityTypeConfiguration<Sector>
{
    public void Configure(EntityTypeBuilder<Sector> builder)
    {
        builder.HasKey(sector => sector.Id);
        builder.Property(sector => sector.Key).HasMaxLength(64);
        builder.Property(sector => sector.Version).IsConcurrencyToken();
        builder.HasIndex(sector => sector.Key).IsUnique();

        // Repeat rules count a tail's sectors up to an instant.
        builder.HasIndex(sector => new { sector.Tail, sector.OnBlock });
    }
}
