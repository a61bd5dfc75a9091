using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Pours;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>The newest pour that proves the work of a job: timed since it began, after the drain was closed again.</summary>
internal static class ProvingPour
{
    public static Task<Pour?> FindAsync(DrainboardDb db, DefectId defect, Instant since, CancellationToken stop) =>
        db.Pours.AsNoTracking().Where(pour => pour.Defect == defect && pour.WithdrawnAt == null && pour.Moment == PourMoment.After && pour.PouredAt >= since).OrderByDescending(pour => pour.PouredAt).FirstOrDefaultAsync(stop);

    public static string Words(Pour pour) => FormattableString.Invariant($"Timed pour {pour.Milliseconds / 1000m:0.0} s, {pour.ResultWords}.");
}
