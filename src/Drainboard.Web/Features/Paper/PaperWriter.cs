using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Drainboard.Web.Features.Paper;

/// <summary>Sets words on pages, top to bottom, breaking lines and pages; every page carries the footer and its number.</summary>
internal sealed class PaperWriter : IDisposable
{
    private const double Margin = 48;
    private const double Foot = 40;

    private readonly PdfDocument _document = new();
    private readonly string _footer;
    private readonly PaperSize _size;
    private readonly XFont _plain;
    private readonly XFont _bold;
    private readonly XFont _large;
    private readonly XFont _small;
    private XGraphics? _page;
    private double _y;
    private double _width;
    private double _height;

    public PaperWriter(string title, string footer, PaperSize size)
    {
        PaperFonts.Use();
        (_footer, _size) = (footer, size);
        (_plain, _bold, _large, _small) = (new XFont(PaperFonts.Family, 10), new XFont(PaperFonts.Family, 11, XFontStyleEx.Bold), new XFont(PaperFonts.Family, 17, XFontStyleEx.Bold), new XFont(PaperFonts.Family, 8));
        _document.Info.Title = title;
        _document.Info.Creator = "Drainboard";
        NewPage();
    }

    public void Title(string words) => Lines(words, _large, 0, 22);

    public void Heading(string words)
    {
        Room(40);
        _y += 8;
        Lines(words, _bold, 0, 15);
    }

    public void Text(string words, bool bold = false, double indent = 0) => Lines(words, bold ? _bold : _plain, indent, 14);

    public void Rule()
    {
        Room(14);
        _y += 6;
        _page!.DrawLine(new XPen(XColors.Black, 0.8), Margin, _y, Margin + _width, _y);
        _y += 6;
    }

    /// <summary>A line to sign on, or who has signed in the program.</summary>
    public void Signature(string who, string signed)
    {
        Room(44);
        _y += 26;
        _page!.DrawString(who, _small, XBrushes.Black, Margin, _y + 12);
        if (signed.Length > 0)
        {
            _page.DrawString(signed, _plain, XBrushes.Black, Margin + 120, _y - 2);
        }

        _page.DrawLine(new XPen(XColors.Black, 0.6), Margin + 120, _y + 2, Margin + _width, _y + 2);
        _y += 16;
    }

    public byte[] Finish()
    {
        _page?.Dispose();
        for (var number = 0; number < _document.PageCount; number++)
        {
            using var page = XGraphics.FromPdfPage(_document.Pages[number], XGraphicsPdfPageOptions.Append);
            page.DrawString($"{number + 1} of {_document.PageCount}", _small, XBrushes.Black, new XRect(Margin, _height - Foot, _width, 12), XStringFormats.TopRight);
        }

        using var bytes = new MemoryStream();
        _document.Save(bytes);
        return bytes.ToArray();
    }

    public void Dispose()
    {
        _page?.Dispose();
        _document.Dispose();
    }

    private void Lines(string words, XFont font, double indent, double height)
    {
        foreach (var line in Break(words, font, _width - indent))
        {
            Room(height);
            _page!.DrawString(line, font, XBrushes.Black, Margin + indent, _y + height - 4);
            _y += height;
        }
    }

    private IEnumerable<string> Break(string words, XFont font, double width)
    {
        var line = "";
        foreach (var word in words.ReplaceLineEndings(" ").Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && _page!.MeasureString(longer, font).Width > width)
            {
                yield return line;
                line = word;
            }
            else
            {
                line = longer;
            }
        }

        yield return line;
    }

    private void Room(double height)
    {
        if (_y + height > _height - Foot - 12)
        {
            NewPage();
        }
    }

    private void NewPage()
    {
        _page?.Dispose();
        var page = _document.AddPage();
        page.Size = _size == PaperSize.A4 ? PageSize.A4 : PageSize.Letter;
        (_width, _height, _y) = (page.Width.Point - (2 * Margin), page.Height.Point, Margin);
        _page = XGraphics.FromPdfPage(page);
        _page.DrawString(_footer, _small, XBrushes.Black, new XRect(Margin, _height - Foot, _width - 50, 12), XStringFormats.TopLeft);
    }
}
