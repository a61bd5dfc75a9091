using System.Text;

namespace Drainboard.Web.Features.Paper;

/// <summary>One heading of a draft with what is known under it.</summary>
/// <param name="Lines">A null value is missing: whoever sends the paper fills it in.</param>
public sealed record DraftPart(string Heading, IReadOnlyList<(string Name, string? Value)> Lines);

/// <summary>
/// A paper for an authority, drawn up from what is on record and never sent from here: as PDF and as text, with what is missing marked.
/// </summary>
/// <param name="Notice">What governs, as on every paper of the installation.</param>
/// <param name="Duty">What asks for it, with its source.</param>
/// <param name="Deadline">By when, in words.</param>
public sealed record Draft(string Title, string Duty, string Deadline, string Notice, IReadOnlyList<DraftPart> Parts)
{
    private const string Gap = "[MISSING: fill in]";
    private const string Standing = "Draft. Nothing is sent from here: check it, complete it and send it by the authority's own way.";

    public IReadOnlyList<string> Missing => [.. Parts.SelectMany(part => part.Lines).Where(line => string.IsNullOrWhiteSpace(line.Value)).Select(line => line.Name)];

    public byte[] ToPdf(PaperSize size)
    {
        using var paper = new PaperWriter(Title, $"{Standing} {Notice}", size);
        paper.Title(Title);
        paper.Text(Duty);
        paper.Text(Deadline, bold: true);
        if (Missing.Count > 0)
        {
            paper.Text($"Missing: {string.Join(", ", Missing)}.", bold: true);
        }

        foreach (var part in Parts)
        {
            paper.Rule();
            paper.Heading(part.Heading);
            foreach (var (name, value) in part.Lines)
            {
                paper.Text($"{name}: {(string.IsNullOrWhiteSpace(value) ? Gap : value)}", bold: string.IsNullOrWhiteSpace(value));
            }
        }

        return paper.Finish();
    }

    public string ToText()
    {
        var text = new StringBuilder().Append(Title).Append("\n\n").Append(Duty).Append('\n').Append(Deadline).Append('\n');
        if (Missing.Count > 0)
        {
            text.Append("Missing: ").AppendJoin(", ", Missing).Append(".\n");
        }

        foreach (var part in Parts)
        {
            text.Append('\n').Append(part.Heading).Append('\n');
            foreach (var (name, value) in part.Lines)
            {
                text.Append("- ").Append(name).Append(": ").Append(string.IsNullOrWhiteSpace(value) ? Gap : value).Append('\n');
            }
        }

        return text.Append('\n').Append(Standing).Append(' ').Append(Notice).Append('\n').ToString();
    }
}
