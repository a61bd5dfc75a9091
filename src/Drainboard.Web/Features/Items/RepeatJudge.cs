using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Rectification;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Items;

/// <summary>Reads a fixture's write-ups inside the rule's window and lets the rule judge the newest.</summary>
internal static class RepeatJudge
{
    public static async Task JudgeAsync(DrainboardDb db, Defect defect, RepeatRule rule, CancellationToken stop)
    {
        var since = rule.LooksBackTo(defect.RecordedAt);
        var earlier = await db.Defects.AsNoTracking()
            .Where(other => other.Tail == defect.Tail && other.Position == defect.Position && other.RecordedAt >= since && other.RecordedAt < defect.RecordedAt && other.Id != defect.Id)
            .Where(other => other.Closure == null || other.Closure == Closure.Rectified || other.Closure == Closure.NoFaultFound)
            .Select(other => new { other.Id, other.Symptom, other.RecordedAt, other.ClosedAt, other.Closure })
            .ToArrayAsync(stop);
        if (earlier.Length + 1 < rule.Count)
        {
            defect.Flag(null);
            return;
        }

        var ids = earlier.Select(other => other.Id).ToArray();
        var found = await db.Work.AsNoTracking().Where(work => ids.Contains(work.Defect) && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified).Select(work => new { work.Defect, work.Found }).ToArrayAsync(stop);
        var flown = rule.Unit == RepeatWindow.Sectors
            ? await db.Sectors.AsNoTracking().Where(sector => sector.Tail == defect.Tail && sector.Flown && sector.OnBlock >= since && sector.OnBlock <= defect.RecordedAt).Select(sector => sector.OnBlock).ToArrayAsync(stop)
            : [];
        var history = earlier.Select(other => new WriteUp(other.Id, other.Symptom, other.RecordedAt, flown.Count(at => at <= other.RecordedAt), other.ClosedAt, How(other.Closure, found.FirstOrDefault(work => work.Defect == other.Id)?.Found)))
            .Append(new WriteUp(defect.Id, defect.Symptom, defect.RecordedAt, flown.Length, null, ""));
        defect.Flag(rule.Judge(history));
    }

    private static string How(Closure? closure, Found? found) => closure switch
    {
        null => "",
        Closure.Rectified when found is { } what => $"rectified ({what.Words().ToLowerInvariant()})",
        { } other => other.Words(),
    };
}
