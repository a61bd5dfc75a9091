using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;

namespace Drainboard.Domain.Isolation;

/// <summary>
/// How likely each kind of segment is to be what blocks a drain. The shares are the trade's (one slow galley sink: strainer 72, branch 12,
/// mast or ice 6, valve 5 in a hundred; common practice, no source, from memory); this fleet's own findings move them.
/// </summary>
public static class BlockagePriors
{
    /// <summary>So many write-ups of findings weigh as much as the trade's word (our choice).</summary>
    public const double TradeWeight = 20;

    /// <summary>At any time about one drain in seven would be called slow somewhere (our choice; after a first slow pour it hardly matters).</summary>
    private const double Slow = 0.139;

    public static double Share(FixtureKind kind) => kind switch
    {
        FixtureKind.Strainer => 0.72,
        FixtureKind.DrainLine => 0.12,
        FixtureKind.DrainMast => 0.06,
        FixtureKind.CheckValve => 0.05,
        _ => 0.01,
    };

    /// <summary>The probability before anything is poured, as the trade has it.</summary>
    public static double Of(FixtureKind kind) => Slow * Share(kind);

    /// <summary>
    /// The same after findings: of <paramref name="writeUps"/> slow drains whose water passes this segment, so many were found to be blocked
    /// here. The mean of the beta posterior whose prior is the trade's share.
    /// </summary>
    /// <param name="tradeWeight">So many findings weigh as much as the trade's word.</param>
    public static double Of(FixtureKind kind, int foundHere, int writeUps, double tradeWeight = TradeWeight) =>
        Slow * (((Share(kind) * tradeWeight) + foundHere) / (tradeWeight + writeUps));

    /// <summary>Minutes to open, look and put right, likely case. Common practice, no source, from memory.</summary>
    public static double Minutes(FixtureKind kind) => kind switch
    {
        FixtureKind.Strainer => JobKind.GalleyStrainer.Usual().LikelyMinutes,
        FixtureKind.CheckValve => JobKind.Valve.Usual().LikelyMinutes,
        FixtureKind.DrainMast => JobKind.DrainMast.Usual().LikelyMinutes,
        FixtureKind.DrainLine => JobKind.Branch.Usual().LikelyMinutes,
        _ => JobKind.Other.Usual().LikelyMinutes,
    };
}
