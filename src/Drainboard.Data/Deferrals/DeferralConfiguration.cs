using Drainboard.Data.Conversions;
using Drainboard.Domain.Deferrals;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Deferrals;

internal sealed class DeferralConfiguration : IEntityTypeConfiguration<Deferral>
{
    public void Configure(EntityTypeBuilder<Deferral> builder)
    {
        builder.HasKey(deferral => deferral.Id);
        builder.Property(deferral => deferral.BasisCode).HasMaxLength(32);
        builder.Property(deferral => deferral.Basis).HasJson();
        builder.Property(deferral => deferral.Policy).HasJson();
        builder.Property(deferral => deferral.Conditions).HasJson();
        builder.Property(deferral => deferral.Extensions).HasJson();
        builder.Property(deferral => deferral.Log).HasJson();
        builder.Property(deferral => deferral.Control).HasJson();
        builder.Property(deferral => deferral.Certified).HasJson();
        builder.Property(deferral => deferral.Version).IsConcurrencyToken();
        builder.Ignore(deferral => deferral.IsRunning);
        builder.Ignore(deferral => deferral.AwaitingNotice);
        builder.Ignore(deferral => deferral.MayBeExtended);
        builder.Ignore(deferral => deferral.LongestExtension);
        builder.HasIndex(deferral => deferral.Defect);

        // A proposal looks for a like one on this tail that ended shortly before.
        builder.HasIndex(deferral => new { deferral.Tail, deferral.EndedAt });

        // The duty to tell the authority outlives the deferral.
        builder.HasIndex(deferral => deferral.NoticeDueAt).HasFilter("\"NoticeDueAt\" IS NOT NULL");

        // Clocks: everything running, by due time. What has ended never grows this index.
        builder.HasIndex(deferral => deferral.DueAt).HasFilter("\"EndedAt\" IS NULL");
    }
}
