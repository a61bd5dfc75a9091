using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;

namespace Drainboard.Web.Features.Plumbing;

/// <summary>A place on the picture: where it stands, and whether it is a line of its own with its name beside it.</summary>
/// <param name="Joining">How many more fixtures join here that are not drawn.</param>
public sealed record PipeNode(Fixture Fixture, int X, int Y, bool IsEnd, int Leaves, int Joining);

/// <summary>A pipe as a bent stroke from one place to the next.</summary>
public sealed record PipeStroke(int FromX, int FromY, int ToX, int ToY);

/// <summary>
/// Where everything on the picture of one branch stands: a line for each fixture with its name, in order of its place in the cabin, and
/// what they share in columns to the right, up to the mast, tank or source. Drawn from the graph alone.
/// </summary>
public sealed class PipeDrawing
{
    public const int Line = 66;
    public const int Names = 152;
    private const int Column = 36;
    private const int Top = 38;
    private readonly List<PipeNode> _nodes = [];
    private readonly List<PipeStroke> _strokes = [];
    private int _line;

    public PipeDrawing(PlumbingBranch branch)
    {
        Width = Names + 20 + (Math.Max(1, branch.Depth - 1) * Column);
        Height = Top + (branch.Leaves * Line) - 20;
        Place(branch, 0);
    }

    public int Width { get; }

    public int Height { get; }

    public IReadOnlyList<PipeNode> Nodes => _nodes;

    public IReadOnlyList<PipeStroke> Strokes => _strokes;

    private (int X, int Y) Place(PlumbingBranch branch, int fromEnd)
    {
        var isEnd = branch.Branches.Count == 0;
        var before = branch.Branches.Select(one => Place(one, fromEnd + 1)).ToArray();
        var x = isEnd ? Names : Width - 24 - (fromEnd * Column);
        var y = isEnd ? Top + (_line++ * Line) : (before[0].Y + before[^1].Y) / 2;
        _strokes.AddRange(before.Select(from => new PipeStroke(from.X, from.Y, x, y)));
        _nodes.Add(new PipeNode(branch.Fixture, x, y, isEnd, branch.Leaves, branch.Joining));
        return (x, y);
    }
}
