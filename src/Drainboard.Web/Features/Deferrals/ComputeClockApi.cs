using System.Text.Json;
using System.Text.Json.Serialization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

public sealed record ClockLimitBody(ClockUnit Unit, decimal? Count = null, Instant? At = null);

public sealed record ClockExtensionBody(int Days, Instant? RequestedAt = null, Instant? ApprovedAt = null);

/// <param name="FlightHours">Time in the air; the block time where it is left out.</param>
public sealed record ClockSectorBody(Instant OffBlock, Instant OnBlock, decimal? FlightHours = null);

/// <param name="Policy">A preset's name (us, eu, uk, hk, ca) or the policy itself.</param>
/// <param name="Zone">The IANA zone to count in when the time base is local.</param>
/// <param name="TimeBase">"utc" or "local"; overrides the policy's.</param>
/// <param name="IntervalDays">The operator's own interval, where it is stricter than the category's.</param>
/// <param name="Limits">Category A only; whichever comes first.</param>
/// <param name="Sectors">In any order; flown when on block is not after asOf.</param>
public sealed record ClockBody(
    JsonElement Policy, Category Category, Instant RecordedAt, Instant AsOf, string? Zone = null, string? TimeBase = null, int? IntervalDays = null,
    IReadOnlyList<ClockLimitBody>? Limits = null, IReadOnlyList<ClockExtensionBody>? Extensions = null, IReadOnlyList<ClockSectorBody>? Sectors = null);

public sealed record ClockRemaining(double? ElapsedHours);

[JsonConverter(typeof(JsonStringEnumConverter<ClockState>))]
public enum ClockState
{
    [JsonStringEnumMemberName("running")]
    Running,
    [JsonStringEnumMemberName("lapsed")]
    Lapsed,
}

public sealed record ClockAnswer(Instant? StartsAt, Instant? DueAt, bool OpenEnded, ClockUnit? Binding, ClockState State, ClockRemaining Remaining, IReadOnlyList<ClockCount> Counts, IReadOnlyList<int> SectorsBlocked, IReadOnlyList<string> Unset, IReadOnlyList<Explained> Explanation);

/// <summary>The clock as an open computation: everything in the question, nothing from the database.</summary>
internal static class ComputeClockApi
{
    private static readonly Instant Earliest = Instant.FromUtc(1900, 1, 1, 0, 0);
    private static readonly Instant Latest = Instant.FromUtc(2200, 1, 1, 0, 0);

    public static void MapComputeClock(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/deferral-clock", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).ProducesProblem(422).WithTags("Compute").WithSummary("When a deferral lapses, step by step. dueAt is the first instant at which it has lapsed; null with openEnded when the sectors given use up no limit, or with unset when the policy leaves a field to the operator");

    private static Results<Ok<ClockAnswer>, ProblemHttpResult> Work(ClockBody body)
    {
        var faults = new Faults();
        var ask = Read(body, faults, out var order);
        return ask is null || faults.Any ? faults.ToHttp()
            : DeferralClock.WhyNot(ask) is { } no ? AnswerHttp.Problem(422, "Refused", no.Words, no.Code)
            : TypedResults.Ok(Answer(body, ask, DeferralClock.Read(ask), order));
    }

    private static ClockAnswer Answer(ClockBody body, ClockQuestion ask, ClockReading reading, IReadOnlyList<int> order)
    {
        var blocked = reading.DueAt is { } due
            ? order.Where((_, index) => ask.Sectors[index].OffBlock >= body.AsOf && !ClockReading.MayFly(due, ask.Sectors[index], ask.Policy.ExpiryTest)).Order().ToArray()
            : [];
        return new ClockAnswer(
            reading.StartsAt, reading.DueAt, reading.OpenEnded, reading.Binding, reading.HasLapsed(body.AsOf) ? ClockState.Lapsed : ClockState.Running,
            new ClockRemaining(reading.DueAt is { } end ? Math.Max(0, (end - body.AsOf).TotalHours) : null), reading.Counts, blocked, reading.Unset, reading.Explanation);
    }

    /// <param name="order">For each of the question's sectors, its place in the body.</param>
    private static ClockQuestion? Read(ClockBody body, Faults faults, out IReadOnlyList<int> order)
    {
        order = [];
        var policy = PolicyBody.Read(body.Policy, faults);
        if (body.TimeBase is { } timeBase)
        {
            if (timeBase.ToLowerInvariant() is not ("utc" or "local"))
            {
                faults.Add("timeBase", "Is \"utc\" or \"local\".");
            }

            policy = policy is null ? null : policy with { TimeBase = timeBase.Equals("utc", StringComparison.OrdinalIgnoreCase) ? TimeBase.Utc : TimeBase.Local };
        }

        var zone = body.Zone is { } named ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(named) : DateTimeZone.Utc;
        if (zone is null || (policy?.TimeBase == TimeBase.Local && body.Zone is null))
        {
            faults.Add("zone", zone is null ? $"\"{body.Zone}\" is not an IANA time zone: write it as Europe/Lisbon or Asia/Tokyo." : "Days are counted in local time: name the IANA zone to count in.");
        }

        Bound(body, faults);
        if (body.RecordedAt > body.AsOf)
        {
            faults.Add("recordedAt", "Lies after asOf: it was not recorded yet.");
        }

        ReadLimits(body, faults);
        ReadExtensions(body, faults);
        var sectors = ReadSectors(body, faults);
        if (faults.Any || policy is null)
        {
            return null;
        }

        order = [.. sectors.Select(one => one.At)];
        return new ClockQuestion(policy, body.Category, body.RecordedAt, zone!, body.IntervalDays)
        {
            Limits = [.. (body.Limits ?? []).Select(limit => new ClockLimit(limit.Unit, limit.Count, limit.At))],
            Extensions = [.. (body.Extensions ?? []).Select(extension => new ClockExtension(extension.Days, extension.RequestedAt, extension.ApprovedAt))],
            Sectors = [.. sectors.Select(one => one.Sector)],
            AsOf = body.AsOf,
        };
    }

    /// <summary>Centuries and counts that no aircraft meets would only overflow the calendar.</summary>
    private static void Bound(ClockBody body, Faults faults)
    {
        foreach (var (path, at) in new[] { ("recordedAt", body.RecordedAt), ("asOf", body.AsOf) }.Where(one => one.Item2 < Earliest || one.Item2 > Latest))
        {
            faults.Add(path, "Is between 1900 and 2200.");
        }

        foreach (var (path, count, most) in new[] { ("limits", body.Limits?.Count, 20), ("extensions", body.Extensions?.Count, 20), ("sectors", body.Sectors?.Count, 20_000) }.Where(one => one.Item2 > one.Item3))
        {
            faults.Add(path, $"Has up to {most} members.");
        }
    }

    private static void ReadLimits(ClockBody body, Faults faults)
    {
        if (body.IntervalDays is <= 0 or > 400)
        {
            faults.Add("intervalDays", "Is from 1 to 400.");
        }

        var limits = body.Limits ?? [];
        if (body.Category == Category.A && limits.Count == 0 && body.IntervalDays is null)
        {
            faults.Add("limits", "Category A has its interval in the item's remarks: give its limits.");
        }

        if (body.Category != Category.A && limits.Count > 0)
        {
            faults.Add("limits", "Only category A has limits of its own.");
        }

        for (var index = 0; index < limits.Count; index++)
        {
            if (new ClockLimit(limits[index].Unit, limits[index].Count, limits[index].At).WhyNot() is { } no)
            {
                faults.Add($"limits[{index}].{(limits[index].Unit == ClockUnit.FixedDate ? "at" : "count")}", no.Words);
            }
        }
    }

    private static void ReadExtensions(ClockBody body, Faults faults)
    {
        var extensions = body.Extensions ?? [];
        for (var index = 0; index < extensions.Count; index++)
        {
            var extension = extensions[index];
            if (extension.Days is <= 0 or > 400)
            {
                faults.Add($"extensions[{index}].days", "Is from 1 to 400.");
            }

            if (extension.ApprovedAt < extension.RequestedAt)
            {
                faults.Add($"extensions[{index}].approvedAt", "Lies before it was asked for.");
            }
        }
    }

    private static (int At, ClockSector Sector)[] ReadSectors(ClockBody body, Faults faults)
    {
        var given = body.Sectors ?? [];
        for (var index = 0; index < given.Count; index++)
        {
            if (given[index].OnBlock <= given[index].OffBlock)
            {
                faults.Add($"sectors[{index}].onBlock", "Is not after offBlock.");
            }
            else if (given[index].FlightHours is < 0 || given[index].FlightHours > (decimal)(given[index].OnBlock - given[index].OffBlock).TotalHours)
            {
                faults.Add($"sectors[{index}].flightHours", "Is zero or more, and no more than the time between the blocks.");
            }
        }

        var sectors = given.Select((sector, index) => (At: index, Sector: ClockSector.Of(sector.OffBlock, sector.OnBlock, sector.FlightHours is { } hours ? Duration.FromTicks((double)hours * NodaConstants.TicksPerHour) : null))).OrderBy(one => one.Sector.OffBlock).ToArray();
        foreach (var (first, second) in SectorRules.Overlaps(sectors, one => one.Sector.OffBlock, one => one.Sector.OnBlock))
        {
            faults.Add($"sectors[{second.At}].offBlock", $"Overlaps with sectors[{first.At}]: an aircraft is on one flight at a time.");
        }

        return sectors;
    }
}
