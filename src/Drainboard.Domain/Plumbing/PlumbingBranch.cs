using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Plumbing;

/// <summary>
/// A drawing unfolded from one place outwards: for the drainage what flows into a place, for the supply what is fed from it. A
/// fixture that is reached on two ways (a basin, hot and cold) stands under each.
/// </summary>
/// <param name="Joining">How many fixtures used on board join here that this drawing leaves out, because it is about one branch.</param>
public sealed record PlumbingBranch(Fixture Fixture, IReadOnlyList<PlumbingBranch> Branches, int Joining = 0)
{
    /// <summary>How many ends it has, which is how many lines it takes to draw.</summary>
    public int Leaves => Branches.Count == 0 ? 1 : Branches.Sum(branch => branch.Leaves);

    /// <summary>How many places lie one after another on its longest way.</summary>
    public int Depth => 1 + (Branches.Count == 0 ? 0 : Branches.Max(branch => branch.Depth));

    public IEnumerable<Fixture> Fixtures => Branches.SelectMany(branch => branch.Fixtures).Prepend(Fixture);
}
