using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>Fits the items of one tail into one stay.</summary>
internal sealed class StayFit(FitBook book, Visit visit, string layout, Instant now)
{
    public FitView Of(Fixture fixture, Symptom symptom, Progress progress) =>
        Of(fixture, book.Work(layout, fixture, symptom.Family(), progress));

    public FitView Of(Fixture fixture, WorkTime work)
    {
        var fit = FitOutlook.Of(work, visit.Workable(CabinPlaces.Of(fixture.Kind)), visit.ArrivesAt, visit.DepartsAt, now, book.Terms);
        var needed = Abilities.Needed(fixture.Kind);
        return ((visit.Abilities & needed) == needed ? FitView.Of(fit) : FitView.Unable(fit, visit.Station.Value)) with { Work = work };
    }
}
