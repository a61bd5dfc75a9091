using Drainboard.Data.Conversions;
using Drainboard.Domain.Pours;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Pours;

internal sealed class PourConfiguration : IEntityTypeConfiguration<Pour>
{
    public void Configure(EntityTypeBuilder<Pour> builder)
    {
        builder.HasKey(pour => pour.Id);
        builder.Property(pour => pour.Measure).HasJson();
        builder.Property(pour => pour.WithdrawnWhy).HasMaxLength(200);
        builder.Property(pour => pour.Version).IsConcurrencyToken();

        // A fixture's page shows its pours; advice reads the newest of a tail.
        builder.HasIndex(pour => new { pour.Tail, pour.Position, pour.PouredAt });
        builder.HasIndex(pour => pour.Defect);

        // Whether the pours of many tails are still those that are kept in memory: answered by the index alone.
        builder.HasIndex(pour => new { pour.Tail, pour.PouredAt, pour.WithdrawnAt });
    }
}
