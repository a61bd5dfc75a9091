using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>One task that is left.</summary>
/// <param name="Rests">What its time rests on.</param>
public sealed record FitTaskView(string Name, double LikelyMinutes, double NineInTenMinutes, string Rests);

/// <summary>What it may turn out to be.</summary>
public sealed record JobTimeView(JobKind Kind, string Words, double Chance, double LikelyMinutes, double NineInTenMinutes, int OwnLayout, int OwnFleet);

public sealed record FitPoint(double Minutes, double Chance);

public sealed record BlockView(GroundActivity Activity, string Words, Instant From, Instant To);

/// <summary>A stay ahead, and the chance that the item fits it.</summary>
public sealed record NextStay(string Station, Instant ArrivesAt, Instant DepartsAt, FitView Fit);

/// <summary>What it would cost to carry the item instead.</summary>
/// <param name="Bases">What it may be carried on, in words.</param>
/// <param name="Cabin">What is out of use then, in words.</param>
/// <param name="Waiting">For a toilet, what passengers wait with it out, in words.</param>
/// <param name="Next">The next stays after this one.</param>
public sealed record DeferCost(IReadOnlyList<string> Bases, string Cabin, string? Waiting, IReadOnlyList<NextStay> Next);

/// <summary>Everything about whether one item fits its stay.</summary>
public sealed record FitDetail(Guid Defect, string Station, string Place, Instant ArrivesAt, Instant DepartsAt, FitView Fit, double TwoTechnicians, IReadOnlyList<FitTaskView> Tasks, IReadOnlyList<JobTimeView> Jobs, IReadOnlyList<BlockView> Blocks, IReadOnlyList<FitPoint> Curve, double PaperworkMinutes, double ControlCallMinutes, DeferCost Deferral);
