using Drainboard.Data.Conversions;
using Drainboard.Domain.Handovers;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Handovers;

internal sealed class HandoverConfiguration : IEntityTypeConfiguration<Handover>
{
    public void Configure(EntityTypeBuilder<Handover> builder)
    {
        builder.ToTable("Handovers");
        builder.HasKey(handover => handover.Id);
        builder.Property(handover => handover.Content).HasJson();
        builder.Property(handover => handover.ContentHash).HasMaxLength(64);
        builder.Property(handover => handover.Outgoing).HasJson();
        builder.Property(handover => handover.Incoming).HasJson();
        builder.Property(handover => handover.Version).IsConcurrencyToken();

        // The newest of a station.
        builder.HasIndex(handover => new { handover.Station, handover.SignedAt });
    }
}
