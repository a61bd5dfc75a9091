using System.Security.Cryptography;
using System.Text;
using Drainboard.Domain.Records;

namespace Drainboard.Domain.Handovers;

/// <summary>What a shift hands to the next, as it stood when it was signed.</summary>
/// <param name="Done">Released in the shift.</param>
/// <param name="Open">Open and why.</param>
/// <param name="Clocks">What lapses in the next shift.</param>
/// <param name="Awaited">Parts awaited, and parts fitted without a certificate.</param>
/// <param name="Disturbed">Not in its usual state: breakers, valves, panels, tags, tools.</param>
/// <param name="Cautions">What can hurt whoever comes next.</param>
public sealed record HandoverContent(IReadOnlyList<HandoverLine> Done, IReadOnlyList<HandoverLine> Open, IReadOnlyList<HandoverLine> Clocks, IReadOnlyList<HandoverLine> Awaited, IReadOnlyList<HandoverLine> Disturbed, IReadOnlyList<HandoverLine> Cautions)
{
    /// <summary>The lists under their headings, in the order in which they are read.</summary>
    public IEnumerable<(string Heading, IReadOnlyList<HandoverLine> Lines)> Parts() =>
        [("Take care", Cautions), ("Not in its usual state", Disturbed), ("Open, and why", Open), ("Clocks that lapse in the next shift", Clocks), ("Parts", Awaited), ("Done in this shift", Done)];

    /// <summary>SHA-256 over every line, each field ended by a line feed: what a signature on it stands for.</summary>
    public string Hash() => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(Parts().SelectMany(part => part.Lines.Select(line => $"{part.Heading}\n{line.Tail}\n{line.Defect}\n{line.What}\n{line.Words}\n"))))));
}
