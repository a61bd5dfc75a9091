using Drainboard.Web.Features.Paper;
using Drainboard.Web.Shell;
using NodaTime;

namespace Drainboard.Web.Features.Records;

/// <summary>A tail's whole record on paper: every entry with who and when, its hash, and the seal that covers it.</summary>
internal static class RecordPaper
{
    private const int HashShown = 16;

    public static byte[] Write(string title, IEnumerable<EntryView> entries, HeadProof? head, string notice, Instant now, PaperSize size)
    {
        using var paper = new PaperWriter($"Record of {title}", $"{notice} Record of {title}, printed {Times.Utc(now)}", size);
        paper.Title($"Record of {title}");
        paper.Text("Every entry in the order in which it was made. Nothing is removed; a correction is another entry.");
        paper.Rule();
        foreach (var entry in entries)
        {
            paper.Text($"{entry.Number}. {entry.Words}");
            paper.Small($"{entry.At.ToString("uuuu-MM-dd HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture)}, {entry.By ?? "name erased"}, {entry.Kind}, {entry.Hash[..HashShown]}");
        }

        paper.Rule();
        paper.Small(head is null ? "No seal covers this record yet." : $"Seal {head.Seal} took entry {head.Entry} with hash {head.Hash}. Root of the seal: {head.Root}. The JSON Lines export of this record and docs/verify.html check it without this program.");
        return paper.Finish();
    }
}
