using Drainboard.Data.Conversions;
using Drainboard.Domain.Rectification;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Rectification;

internal sealed class WorkDoneConfiguration : IEntityTypeConfiguration<WorkDone>
{
    public void Configure(EntityTypeBuilder<WorkDone> builder)
    {
        builder.ToTable("Work");
        builder.HasKey(work => work.Id);
        builder.Property(work => work.Steps).HasJson();
        builder.Property(work => work.Card).HasJson();
        builder.Property(work => work.CardCode).HasMaxLength(40);
        builder.Property(work => work.OutOfLimits).HasJson();
        builder.Property(work => work.SignedIn).HasJson();
        builder.Property(work => work.OpsCheck).HasJson();
        builder.Property(work => work.LeakCheck).HasJson();
        builder.Property(work => work.Release).HasJson();
        builder.Property(work => work.Version).IsConcurrencyToken();

        // A defect's page and a fixture's history show the work on it.
        builder.HasIndex(work => work.Defect);
        builder.HasIndex(work => new { work.Tail, work.Position, work.CompletedAt });

        // How long a kind of job takes.
        builder.HasIndex(work => new { work.CardCode, work.CompletedAt });

        // Turn fit reads the newest jobs of the fleet.
        builder.HasIndex(work => work.CompletedAt);

        // Advice reads what was found on drains, and when a place was opened last.
        builder.HasIndex(work => new { work.Tail, work.FoundAt, work.CompletedAt });

        // Planned cleanings ask of many tails at once when each place was opened last: answered by the index alone, however many years lie below it.
        builder.HasIndex(work => new { work.Tail, work.CompletedAt, work.FoundAt }).HasFilter("\"Found\" <> 'Nothing' AND \"ReturnReason\" = ''").HasDatabaseName("IX_Work_Openings");
    }
}
