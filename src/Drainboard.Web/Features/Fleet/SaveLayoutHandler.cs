using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Fleet;

/// <summary>A whole drawing. It becomes the next version; what is stored under earlier ones stays.</summary>
/// <param name="Classes">The classes of seats and their stretches of the cabin; left out: none are named.</param>
/// <param name="MoveTails">The tails of earlier versions fly with this one from now on.</param>
public sealed record SaveLayoutRequest(string Name, int Seats, IReadOnlyList<FixtureBody> Fixtures, IReadOnlyList<PipeBody> Connections, bool MoveTails = false, IReadOnlyList<CabinClass>? Classes = null);

/// <summary>Makes the next version of a layout, once its drawing is sound.</summary>
public sealed class SaveLayoutHandler(OneDoor door)
{
    private const int LongestCode = 12;

    public Task<Answer> HandleAsync(Call call, string code, SaveLayoutRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageLayouts, new { code, request }, attempt => SaveAsync(call, attempt, code.Trim().ToUpperInvariant(), request), stop, OneDoor.LargestDrawing);

    /// <summary>The drawing as the domain knows it, with everything that is wrong with it in words.</summary>
    public static (IReadOnlyList<Fixture> Fixtures, IReadOnlyList<Connection> Connections, IReadOnlyList<string> Faults) Read(IReadOnlyList<FixtureBody> fixtures, IReadOnlyList<PipeBody> pipes)
    {
        var faults = new List<string>();
        var drawn = new List<Fixture>();
        foreach (var body in fixtures)
        {
            if (!Position.TryParse(body.Position, out var at))
            {
                faults.Add($"\"{body.Position}\" is not a position code: up to 12 letters, digits and hyphens.");
            }
            else if (body.Name.Trim().Length is 0 or > 60 || body.Area.Trim().Length is 0 or > 30 || body.Along is < 0 or > 100 || body.Across is < 0 or > 100)
            {
                faults.Add($"{at}: give it a name (up to 60 characters), an area (up to 30), and a place from 0 to 100 along and across the cabin.");
                drawn.Add(new Fixture(at, body.Kind, body.Name, body.Area, Math.Clamp(body.Along, 0, 100), Math.Clamp(body.Across, 0, 100)));
            }
            else
            {
                drawn.Add(new Fixture(at, body.Kind, body.Name.Trim(), body.Area.Trim(), body.Along, body.Across, body.Access?.Trim() ?? "", body.Accessible && body.Kind == FixtureKind.Toilet));
            }
        }

        var connections = new List<Connection>();
        foreach (var pipe in pipes)
        {
            if (Position.TryParse(pipe.From, out var from) && Position.TryParse(pipe.To, out var to))
            {
                connections.Add(new Connection(pipe.Water, from, to));
            }
            else
            {
                faults.Add($"A pipe from \"{pipe.From}\" to \"{pipe.To}\" names no positions.");
            }
        }

        if (fixtures.Count == 0)
        {
            faults.Add("A layout has fixtures. Add one.");
        }

        // While a pipe leads nowhere or in a circle, what follows from that is not said as well.
        var unsound = PlumbingRules.Check(drawn, connections);
        var causes = unsound.Where(fault => fault.Code is "position-twice" or "no-such-position" or "pipe-to-itself" or "loop").ToArray();
        return (drawn, connections, [.. faults, .. (causes.Length > 0 ? causes : unsound).Select(fault => fault.Words)]);
    }

    /// <summary>The classes of seats, with what is wrong with them in words.</summary>
    public static (IReadOnlyList<CabinClass> Classes, IReadOnlyList<string> Faults) ReadClasses(SaveLayoutRequest request)
    {
        CabinClass?[] sent = [.. request.Classes ?? []];
        CabinClass[] classes = [.. sent.OfType<CabinClass>().Select(one => one with { Name = one.Name.Trim() })];
        return (classes, classes.Length < sent.Length ? ["One of the classes is empty. Say its name, seats and stretch."] : CabinClass.Faults(classes, request.Seats));
    }

    private static async Task<Answer> SaveAsync(Call call, Attempt attempt, string code, SaveLayoutRequest request)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        if (code.Length is 0 or > LongestCode || !code.All(letter => char.IsAsciiLetterOrDigit(letter) || letter == '-') || request.Name.Trim().Length is 0 or > 80 || request.Seats is < 0 or > 900)
        {
            return new Refusal("layout-name", $"A layout has a code of letters, digits and hyphens (up to {LongestCode}), a name (up to 80 characters) and 0 to 900 seats.");
        }

        var versions = await db.Layouts.AsNoTracking().Where(layout => layout.Code == code).OrderByDescending(layout => layout.Version).ToArrayAsync(stop);
        var newest = versions.FirstOrDefault();
        if (call.SeenVersion == Call.SawNone && newest is not null)
        {
            return new Refusal("layout-exists", $"There is a layout {code} already, in version {newest.Version}. Change that one, or choose another code.");
        }

        if (call.SeenVersion is { } seen && seen != (newest?.Version ?? Call.SawNone))
        {
            return new Answer.Stale(newest?.Version ?? 0);
        }

        var (fixtures, connections, drawn) = Read(request.Fixtures, request.Connections);
        var (classes, unfit) = ReadClasses(request);
        string[] faults = [.. drawn, .. unfit];
        if (faults.Length > 0)
        {
            return new Refusal("layout-unsound", string.Join(" ", faults.Take(5)) + (faults.Length > 5 ? $" And {faults.Length - 5} more." : ""));
        }

        var made = new CabinLayout(new LayoutId(NewId.At(attempt.Now)), code, (newest?.Version ?? 0) + 1, request.Name.Trim(), request.Seats, fixtures, connections, classes);
        if (made.WhyNotAfter(versions) is { } reused)
        {
            return reused;
        }

        if (newest?.IsSameDrawing(made) == true)
        {
            return new Refusal("layout-same", $"This is version {newest.Version} as it stands. Change something first.");
        }

        var moved = 0;
        if (request.MoveTails)
        {
            var ids = versions.Select(layout => layout.Id).ToArray();
            var tails = await db.Tails.Where(tail => ids.Contains(tail.Layout)).ToArrayAsync(stop);
            if (await WhyNotMoveAsync(db, tails, made, stop) is { } no)
            {
                return no;
            }

            foreach (var tail in tails)
            {
                tail.Set(made.Id, tail.Deviations, tail.DeliveredOn);
            }

            moved = tails.Length;
        }

        db.Add(made);
        var words = $"Layout {code} version {made.Version} was drawn: {fixtures.Count} fixtures, {connections.Count} pipes.{(moved > 0 ? $" {moved} tails fly with it." : "")}";
        attempt.Record(new Fact(ChainKey.Operator, "layout.saved", made.Id.Value, words).With("layout", code).With("version", made.Version).With("fixtures", fixtures.Count).With("pipes", connections.Count).With("tailsMoved", moved));
        return attempt.Done(made.Id.Value, () => made.Version, words);
    }

    /// <summary>What is open or noted at a position that the new drawing does not have would lose its place.</summary>
    private static async Task<Refusal?> WhyNotMoveAsync(Data.DrainboardDb db, Tail[] tails, CabinLayout made, CancellationToken stop)
    {
        var ids = tails.Select(tail => tail.Id).ToArray();
        var open = await db.Defects.AsNoTracking().Where(defect => ids.Contains(defect.Tail) && defect.State != DefectState.Closed).Select(defect => new { defect.Tail, defect.Position }).ToArrayAsync(stop);
        var lost = open.Where(one => made.Find(one.Position) is null).Select(one => $"{tails.Single(tail => tail.Id == one.Tail).Registration} has an open defect at {one.Position}")
            .Concat(tails.SelectMany(tail => tail.Deviations.Where(own => made.Find(own.Position) is null).Select(own => $"{tail.Registration} differs at {own.Position}"))).Distinct().ToArray();
        return lost.Length == 0 ? null : new Refusal("positions-in-use", $"{string.Join("; ", lost.Take(5))}{(lost.Length > 5 ? $"; and {lost.Length - 5} more" : "")}: this drawing has no such position. Keep it, or save without moving the tails.");
    }
}
