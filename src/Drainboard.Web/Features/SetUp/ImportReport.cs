namespace Drainboard.Web.Features.SetUp;

/// <summary>One fault of an import: where it is and what to do. Rows count as in a spreadsheet, the heading being row 1; in JSON, as members of the list from 1.</summary>
public sealed record ImportFault(string File, int? Row, string? Column, string Words);

public sealed record ImportCount(string Table, int Added, int Changed, int Same);

/// <summary>What an import found, and whether anything was saved.</summary>
public sealed record ImportReport(bool Saved, IReadOnlyList<ImportFault> Faults, IReadOnlyList<ImportCount> Counts)
{
    public bool Clean => Faults.Count == 0;

    public int Moved => Counts.Sum(count => count.Added + count.Changed);
}
