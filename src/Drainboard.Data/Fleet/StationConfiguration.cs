using Drainboard.Data.Conversions;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Fleet;

internal sealed class StationConfiguration : IEntityTypeConfiguration<Station>
{
    public void Configure(EntityTypeBuilder<Station> builder)
    {
        builder.HasKey(station => station.Code);
        builder.Property(station => station.Capabilities).HasJson();
        builder.Property(station => station.Version).IsConcurrencyToken();
    }
}
