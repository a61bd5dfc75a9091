using Drainboard.Data.Conversions;
using Drainboard.Domain.Defects;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Defects;

internal sealed class DefectConfiguration : IEntityTypeConfiguration<Defect>
{
    public void Configure(EntityTypeBuilder<Defect> builder)
    {
        builder.HasKey(defect => defect.Id);
        builder.Property(defect => defect.Log).HasJson();
        builder.Property(defect => defect.ClosureLog).HasJson();
        builder.Property(defect => defect.Repeat).HasJson();
        builder.Property(defect => defect.Holder).HasJson();
        builder.Property(defect => defect.Version).IsConcurrencyToken();
        builder.Ignore(defect => defect.IsActive);
        builder.HasIndex(defect => new { defect.Tail, defect.Number }).IsUnique();

        // Board and Tail: what is not closed on these tails. Closed history never grows this index.
        builder.HasIndex(defect => defect.Tail).HasFilter("\"State\" <> 'Closed'");

        // Fixture page and repeat rule: one fixture's write-ups, newest first.
        builder.HasIndex(defect => new { defect.Tail, defect.Position, defect.RecordedAt });

        // Lists, newest first: of the fleet as written up, of a tail as closed.
        builder.HasIndex(defect => new { defect.RecordedAt, defect.Number });
        builder.HasIndex(defect => new { defect.Tail, defect.ClosedAt }).HasFilter("\"ClosedAt\" IS NOT NULL");

        // A defect's page shows those that were joined to it.
        builder.HasIndex(defect => defect.SameAs);
    }
}
