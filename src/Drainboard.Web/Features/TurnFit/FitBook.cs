using System.Collections.Concurrent;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>The times of the fleet's jobs as they were read, with what was worked out from them: alike items share one distribution.</summary>
public sealed class FitBook(JobTimes times, FitTerms terms)
{
    private readonly ConcurrentDictionary<(string Layout, FixtureKind Kind, SymptomFamily Family), IReadOnlyList<JobTime>> _jobs = [];
    private readonly ConcurrentDictionary<(string Layout, FixtureKind Kind, SymptomFamily Family, bool Done, bool Checked), WorkTime> _untouched = [];
    private readonly ConcurrentDictionary<(string Layout, FixtureKind Kind, SymptomFamily Family), WorkNeed> _needs = [];

    public FitTerms Terms => terms;

    public IReadOnlyList<JobTime> Jobs(string layout, FixtureKind kind, SymptomFamily family) =>
        _jobs.GetOrAdd((layout, kind, family), key => times.For(key.Layout, key.Kind, key.Family));

    public IReadOnlyList<FitTask> Left(string layout, Fixture fixture, SymptomFamily family, Progress progress) =>
        ItemTasks.Left(fixture, Jobs(layout, fixture.Kind, family), progress, terms);

    /// <summary>How long what is left takes one technician.</summary>
    public WorkTime Work(string layout, Fixture fixture, SymptomFamily family, Progress progress) =>
        progress is { Begun: null, StepsLeft: 1 }
            ? _untouched.GetOrAdd((layout, fixture.Kind, family, progress.IsDone, progress.Checked), _ => Sum(layout, fixture, family, progress))
            : Sum(layout, fixture, family, progress);

    /// <summary>What a stay must offer to take such an item as a whole: minutes that are enough with the chance that the installation counts on, papers included.</summary>
    public WorkNeed Need(string layout, Fixture fixture, SymptomFamily family) => _needs.GetOrAdd((layout, fixture.Kind, family), _ =>
        new WorkNeed(Abilities.Needed(fixture.Kind), CabinPlaces.Of(fixture.Kind), (int)Math.Ceiling(Work(layout, fixture, family, Progress.None).Quantile(terms.GoodChance) + terms.PaperworkMinutes + terms.ControlCallMinutes)));

    private WorkTime Sum(string layout, Fixture fixture, SymptomFamily family, Progress progress) => WorkTime.Of([.. Left(layout, fixture, family, progress).Select(task => task.Time)]);
}
