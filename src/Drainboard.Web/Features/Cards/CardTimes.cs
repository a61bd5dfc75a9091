using Drainboard.Data;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <summary>How long the jobs of each card took, from the newest of them: what estimates go by.</summary>
public sealed class CardTimes
{
    private const int Newest = 100;
    private const int Fewest = 3;
    private readonly Dictionary<string, int[]> _minutes;

    private CardTimes(Dictionary<string, int[]> minutes) => _minutes = minutes;

    public int JobsOf(string code) => _minutes.GetValueOrDefault(code)?.Length ?? 0;

    public int? UsualOf(string code) => _minutes.GetValueOrDefault(code) is { Length: >= Fewest } all ? all[all.Length / 2] : null;

    public static async Task<CardTimes> ReadAsync(DrainboardDb db, IReadOnlyCollection<string> codes, CancellationToken stop)
    {
        var minutes = new Dictionary<string, int[]>();
        foreach (var code in codes)
        {
            minutes[code] = [.. (await db.Work.AsNoTracking().Where(work => work.CardCode == code && work.Minutes > 0).OrderByDescending(work => work.CompletedAt).Take(Newest).Select(work => work.Minutes!.Value).ToArrayAsync(stop)).Order()];
        }

        return new CardTimes(minutes);
    }
}
