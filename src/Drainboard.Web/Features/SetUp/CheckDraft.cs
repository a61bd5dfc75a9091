using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.PlannedChecks;

namespace Drainboard.Web.Features.SetUp;

/// <summary>A planned check while it is written.</summary>
internal sealed class CheckDraft
{
    public string Code { get; set; } = "";

    public string Title { get; set; } = "";

    public string Look { get; set; } = "";

    public string Caution { get; set; } = "";

    public string Manual { get; set; } = "";

    /// <summary>Name of the kind of fixture; empty: the whole aircraft.</summary>
    public string Kind { get; set; } = "";

    /// <summary>The place that was chosen; a kind of fixture has its own.</summary>
    public CabinPlace Own { get; set; } = CabinPlace.Outside;

    public string Layout { get; set; } = "";

    public int? EveryDays { get; set; }

    public int? Minutes { get; set; }

    public int? BelowCelsius { get; set; }

    public int? StayOverMinutes { get; set; }

    public bool IsCleaning { get; set; }

    public bool Retired { get; set; }

    /// <summary>The version that the person saw; <see cref="Call.SawNone"/> for a new one.</summary>
    public long SeenVersion { get; private set; } = Call.SawNone;

    public FixtureKind? FixtureKind => Enum.TryParse<FixtureKind>(Kind, out var kind) ? kind : null;

    public CabinPlace Place => FixtureKind is { } kind ? CabinPlaces.Of(kind) : Own;

    public CheckTerms Terms => new(Title, Look, FixtureKind, Place, EveryDays ?? -1, Minutes ?? 0, Manual, Caution, Layout, BelowCelsius, StayOverMinutes, IsCleaning);

    public static CheckDraft Of(PlannedCheckView view) => new()
    {
        Code = view.Code, Title = view.Terms.Title, Look = view.Terms.Look, Caution = view.Terms.Caution, Manual = view.Terms.Manual, Kind = view.Terms.Kind?.ToString() ?? "", Own = view.Terms.Place, Layout = view.Terms.Layout,
        EveryDays = view.Terms.EveryDays, Minutes = view.Terms.Minutes, BelowCelsius = view.Terms.BelowCelsius, StayOverMinutes = view.Terms.StayOverMinutes, IsCleaning = view.Terms.IsCleaning, Retired = view.Retired, SeenVersion = view.Number,
    };
}
