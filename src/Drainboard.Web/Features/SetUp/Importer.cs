using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Live;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.SetUp;

/// <summary>
/// Checks every row of every file first and saves all of it or none. Rows are matched by their own keys, so the same files a
/// second time change nothing.
/// </summary>
public sealed class Importer(IDbContextFactory<DrainboardDb> factory, SigningCodes codes, IClock clock, ChangeFeed feed)
{
    /// <param name="ownPassword">The administrator's own, at a page and where people are added or changed.</param>
    public async Task<ImportReport> RunAsync(IReadOnlyDictionary<string, string> files, bool dry, Actor actor, CancellationToken stop, string? ownPassword = null)
    {
        var faults = new List<ImportFault>();
        if (Permissions.WhyNot(actor, Act.Import) is { } no)
        {
            return new ImportReport(false, [new ImportFault("", null, null, no.Words)], []);
        }

        if (files.Count == 0)
        {
            faults.Add(new ImportFault("", null, null, $"There is no .csv or .json file. The tables are: {string.Join(", ", ImportTable.All.Select(table => table.Name))}."));
        }

        var source = ImportSource.Of(files, faults);
        await using var db = await factory.CreateDbContextAsync(stop);
        var now = clock.GetCurrentInstant();
        var work = await ImportWork.BeginAsync(db, source, now, stop);
        FleetImport.Read(source, work, faults);
        PeopleImport.Read(source, work);
        BasesImport.Read(source, work);
        TurnsImport.Read(source, work);
        await TurnsImport.CheckFlightsAsync(db, source, work, stop);
        var report = new ImportReport(false, Ordered(faults), work.Counts);
        if (dry || !report.Clean || report.Moved == 0)
        {
            return report;
        }

        if (actor != Actor.Installation && work.Counts.Any(count => count.Table == "people" && count.Added + count.Changed > 0) && await codes.WhyNotConfirmedAsync(actor, ownPassword, "Nothing was imported.", stop) is { } unconfirmed)
        {
            return report with { Faults = [new ImportFault("", null, null, unconfirmed.Words)] };
        }

        var fact = new Fact(ChainKey.Operator, "import.done", Guid.Empty, $"Imported: {string.Join(", ", work.Counts.Where(count => count.Added + count.Changed > 0).Select(count => $"{count.Table} {count.Added} added, {count.Changed} changed"))}.");
        foreach (var count in work.Counts)
        {
            fact.With(count.Table, count.Added + count.Changed);
        }

        var tails = db.ChangeTracker.Entries<Sector>().Where(entry => entry.State is EntityState.Added or EntityState.Modified).SelectMany(entry => new[] { entry.Entity.Tail, entry.OriginalValues.GetValue<TailId>(nameof(Sector.Tail)) }).ToArray();
        var moved = await ClockKeeper.RederiveAsync(db, tails, stop);
        await db.SaveAsync(new Writing(actor, now, [.. moved.Prepend(fact).Select(one => new Deed(one, actor, now))]), stop);
        feed.Ring();
        return report with { Saved = true };
    }

    private static ImportFault[] Ordered(List<ImportFault> faults) =>
        [.. faults.Distinct().OrderBy(fault => fault.File, StringComparer.Ordinal).ThenBy(fault => fault.Row ?? 0).ThenBy(fault => fault.Column, StringComparer.Ordinal)];
}
