using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Isolation;

namespace Drainboard.Web.Features.Plumbing;

/// <summary>One branch of a tail's plumbing with what is known on it.</summary>
/// <param name="Views">From where the rest may be drawn.</param>
public sealed record PlumbingView(string Tail, Water Water, string Around, IReadOnlyList<NamedPlace> Views, BranchBody Branch)
{
    /// <summary>For the picture; the tree above says the same to a program.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public required PlumbingBranch Drawn { get; init; }

    [System.Text.Json.Serialization.JsonIgnore]
    public required IReadOnlyDictionary<string, PipeMark> Marks { get; init; }
}

/// <param name="State">What is worst here; null when nothing is.</param>
/// <param name="Pour">The newest pour that still tells; null when there was none.</param>
/// <param name="Joining">So many more fixtures join here that this branch leaves out.</param>
/// <param name="From">What flows into it; for the supply, what it feeds.</param>
public sealed record BranchBody(string Position, string Name, string Kind, string? State, string? Pour, int Joining, IReadOnlyList<BranchBody> From);
