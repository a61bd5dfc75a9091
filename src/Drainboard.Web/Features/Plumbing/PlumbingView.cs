using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Isolation;

namespace Drainboard.Web.Features.Plumbing;

/// <summary>One branch of a tail's plumbing with what is known on it, as the picture takes it.</summary>
/// <param name="Around">The place that was asked for, or was chosen.</param>
/// <param name="Views">From where the rest may be drawn.</param>
public sealed record PlumbingBoard(string Tail, Water Water, string Around, IReadOnlyList<NamedPlace> Views, PlumbingBranch Branch, IReadOnlyDictionary<string, PipeMark> Marks);

/// <summary>The same for a program.</summary>
public sealed record PlumbingView(string Tail, Water Water, string Around, IReadOnlyList<NamedPlace> Views, BranchBody Branch)
{
    public static PlumbingView Of(PlumbingBoard board) => new(board.Tail, board.Water, board.Around, board.Views, BranchBody.Of(board.Branch, board.Marks));
}

/// <param name="State">What is worst here; null when nothing is.</param>
/// <param name="Pour">The newest pour that still tells; null when there was none.</param>
/// <param name="Joining">So many more fixtures join here that this branch leaves out.</param>
/// <param name="From">What flows into it; for the supply, what it feeds.</param>
public sealed record BranchBody(string Position, string Name, string Kind, string? State, string? Pour, int Joining, IReadOnlyList<BranchBody> From)
{
    public static BranchBody Of(PlumbingBranch branch, IReadOnlyDictionary<string, PipeMark> marks)
    {
        var mark = marks.GetValueOrDefault(branch.Fixture.Position.Value);
        return new BranchBody(branch.Fixture.Position.Value, branch.Fixture.Name, branch.Fixture.Kind.Words(), mark?.State, mark?.Pour, branch.Joining, [.. branch.Branches.Select(one => Of(one, marks))]);
    }
}
