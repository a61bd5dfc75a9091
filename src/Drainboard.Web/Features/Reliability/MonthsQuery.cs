using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Whether a fleet's month stands out from its own year before.</summary>
public sealed class MonthsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private const int Shown = 13;

    public async Task<MonthsView> ReadAsync(FleetScope scope, AlertMethod method, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var last = clock.GetCurrentInstant().InUtc().Date.ToYearMonth().PlusMonths(-1);
        var first = last.PlusMonths(1 - Shown - AlertLevel.BaselineMonths);
        var months = Enumerable.Range(0, Shown + AlertLevel.BaselineMonths).Select(first.PlusMonths).ToArray();
        var cabins = await scope.CabinsAsync(db, layouts, stop);
        var faults = (await scope.WriteUps(db, cabins, Start(first), Start(last.PlusMonths(1))).Select(defect => new { defect.Tail, defect.Position, defect.RecordedAt }).ToArrayAsync(stop))
            .Where(one => cabins.TryGetValue(one.Tail, out var cabin) && (scope.Kind is null || cabin.Find(one.Position)?.Kind == scope.Kind))
            .CountBy(one => one.RecordedAt.InUtc().Date.ToYearMonth()).ToDictionary();
        var (unit, exposure) = await ExposureAsync(db, cabins, months, stop);
        var began = await FleetExposure.RecordBeganAsync(db, clock.GetCurrentInstant(), stop);
        var all = months.Select(month => Start(month) < began ? default : new FleetMonth(faults.GetValueOrDefault(month), exposure[month])).ToArray();
        return new MonthsView(unit, method, WordsOf(method), [.. Enumerable.Range(AlertLevel.BaselineMonths, Shown).Select(at => Line(months[at], all, at, method))]);
    }

    private static MonthLine Line(YearMonth month, FleetMonth[] all, int at, AlertMethod method)
    {
        var alert = AlertLevel.Of(method, all[(at - AlertLevel.BaselineMonths)..at], all[at]);
        var limits = all[at].Exposure > 0 ? PoissonRate.Limits(all[at].Events, all[at].Exposure) : (Bounds?)null;
        return new MonthLine(Name(month), all[at].Events, all[at].Exposure, 1000 * alert.Rate, 1000 * limits?.Low, 1000 * limits?.High, 1000 * AlertLevel.RunningRates(all[(at - 2)..(at + 1)], 3)[0], 1000 * AlertLevel.RunningRates(all[(at - 11)..(at + 1)], 12)[0], 1000 * alert.Level, alert.IsAlert);
    }

    private static async Task<(ExposureUnit Unit, Dictionary<YearMonth, double> Exposure)> ExposureAsync(DrainboardDb db, IReadOnlyDictionary<TailId, CabinLayout> cabins, YearMonth[] months, CancellationToken stop)
    {
        if (await FleetExposure.HasSectorsSinceAsync(db, Start(months[0]), stop))
        {
            var tails = cabins.Keys.ToArray();
            var exposure = new Dictionary<YearMonth, double>();
            foreach (var month in months)
            {
                var (from, to) = (Start(month), Start(month.PlusMonths(1)));
                exposure[month] = await db.Sectors.CountAsync(sector => tails.Contains(sector.Tail) && sector.Flown && sector.OnBlock >= from && sector.OnBlock < to, stop);
            }

            return (ExposureUnit.Sectors, exposure);
        }

        var delivered = (await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.DeliveredOn }).ToArrayAsync(stop)).Where(tail => cabins.ContainsKey(tail.Id)).ToArray();
        return (ExposureUnit.Days, months.ToDictionary(month => month, month => delivered.Sum(tail => FleetExposure.DaysOf(tail.DeliveredOn, Start(month), Start(month.PlusMonths(1))))));
    }

    private static Instant Start(YearMonth month) => month.OnDayOfMonth(1).AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();

    private static string Name(YearMonth month) => month.ToString("uuuu-MM", System.Globalization.CultureInfo.InvariantCulture);

    private static string WordsOf(AlertMethod method) => method switch
    {
        AlertMethod.ExactPoisson => "Exact Poisson limit at the month's own exposure, one false alarm in 741 months: the one to trust at small counts.",
        AlertMethod.MeanAndDeviations => $"Mean of the twelve months' rates plus {AlertLevel.Deviations:0} standard deviations over n - 1. At small counts it alarms far too often.",
        AlertMethod.MeanTimesOnePointThree => "1.3 times the mean rate (Transport Canada AMA 571.101/1, appendix A, first example).",
    };
}
