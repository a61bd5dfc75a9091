using Drainboard.Domain.Departure;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Departure;

internal sealed class SheetAcknowledgementConfiguration : IEntityTypeConfiguration<SheetAcknowledgement>
{
    public void Configure(EntityTypeBuilder<SheetAcknowledgement> builder)
    {
        builder.HasKey(row => row.Id);
        builder.Property(row => row.SheetHash).HasMaxLength(64);

        // A sheet shows who has acknowledged it.
        builder.HasIndex(row => row.Turn);
    }
}
