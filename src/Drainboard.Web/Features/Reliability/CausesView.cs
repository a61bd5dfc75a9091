using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What findings are counted by.</summary>
public enum CauseBy
{
    Found,
    Place,
    Galley,
    Layout,
    Route,
    Hour,
    Month,
}

/// <param name="Running">The share of this line and of all above it.</param>
public sealed record CauseLine(string Label, int Count, double Share, double Running);

/// <summary>What crew could keep out of one galley's drains.</summary>
/// <param name="Words">Plain, for crew.</param>
public sealed record GalleyNote(string Layout, string Area, int Blockages, int Preventable, string Words);

/// <summary>What was found in a time: only work that is signed, so that it can be shown again.</summary>
/// <param name="Lines">The most frequent first; by hour and by month in their own order.</param>
public sealed record CausesView(Instant From, Instant Until, CauseBy By, int Total, IReadOnlyList<CauseLine> Lines, IReadOnlyList<GalleyNote> Galleys);
