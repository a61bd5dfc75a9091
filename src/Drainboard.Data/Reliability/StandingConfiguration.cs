using Drainboard.Domain.Reliability;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Reliability;

internal sealed class StandingConfiguration : IEntityTypeConfiguration<Standing>, IEntityTypeConfiguration<StandingSnapshot>
{
    public void Configure(EntityTypeBuilder<Standing> builder)
    {
        builder.HasKey(standing => new { standing.Snapshot, standing.Rank });
        builder.Property(standing => standing.Layout).HasMaxLength(20);
        builder.Ignore(standing => standing.Excess);

        // A fixture's page asks for its own.
        builder.HasIndex(standing => new { standing.Snapshot, standing.Tail, standing.Position });
    }

    public void Configure(EntityTypeBuilder<StandingSnapshot> builder)
    {
        builder.HasKey(snapshot => snapshot.Number);
        builder.Property(snapshot => snapshot.Number).ValueGeneratedNever();
    }
}
