using Drainboard.Data.Conversions;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Turns;

internal sealed class TurnConfiguration : IEntityTypeConfiguration<Turn>
{
    public void Configure(EntityTypeBuilder<Turn> builder)
    {
        builder.HasKey(turn => turn.Id);
        builder.Property(turn => turn.Key).HasMaxLength(64);
        builder.Property(turn => turn.Stand).HasMaxLength(12);
        builder.Property(turn => turn.Version).IsConcurrencyToken();
        builder.Property(turn => turn.Windows).HasJson();
        builder.Ignore(turn => turn.ArrivesAt);
        builder.Ignore(turn => turn.DepartsAt);
        builder.HasIndex(turn => turn.Key).IsUnique();

        // Board: the stays at a station around now. Whereabouts and next visits: the stays of a tail around now. Both are bounded by the
        // arrival too: a month ahead is planned, and most of it need not be looked up to be left out.
        builder.HasIndex(turn => new { turn.Station, turn.EstimatedDeparture, turn.EstimatedArrival });
        builder.HasIndex(turn => new { turn.Tail, turn.EstimatedDeparture, turn.EstimatedArrival });
    }
}
