using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using QRCoder;

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
    private double _left = Margin;
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

    /// <summary>What follows begins a page of its own.</summary>
    public void Break() => NewPage();

    public void Small(string words) => Lines(words, _small, 0, 11);

    /// <summary>Words to be read across a galley.</summary>
    public void Huge(string words) => Lines(words, new XFont(PaperFonts.Family, 40, XFontStyleEx.Bold), 0, 48);

    /// <summary>A QR code, 26 mm wide with its quiet zone, and what it is for.</summary>
    public void Qr(string url, string caption)
    {
        const double Side = 74;
        using var generator = new QRCodeGenerator();
        using var code = generator.CreateQrCode(url, QRCodeGenerator.ECCLevel.M);
        var (rows, cell) = (code.ModuleMatrix, Side / code.ModuleMatrix.Count);
        Room(Side + 14);
        for (var row = 0; row < rows.Count; row++)
        {
            for (var at = 0; at < rows[row].Count; at++)
            {
                if (rows[row][at])
                {
                    // A hair over, so that no white line shows between two cells.
                    _page!.DrawRectangle(XBrushes.Black, _left + (at * cell), _y + (row * cell), cell + 0.05, cell + 0.05);
                }
            }
        }

        _page!.DrawString(caption, _small, XBrushes.Black, _left + Side + 8, _y + (Side / 2));
        _page.DrawString(url, _small, XBrushes.Black, _left + Side + 8, _y + (Side / 2) + 12);
        _y += Side + 6;
    }

    /// <summary>Sets what it is given within a frame to cut along; it is short enough for one page.</summary>
    public void Framed(Action content)
    {
        var top = _y;
        _y += 18;
        (_left, _width) = (_left + 18, _width - 36);
        content();
        (_left, _width) = (_left - 18, _width + 36);
        _page!.DrawRectangle(new XPen(XColors.Black, 1.6), _left, top, _width, _y - top + 10);
        _y += 24;
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
            _page!.DrawString(line, font, XBrushes.Black, _left + indent, _y + height - 4);
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
        var lines = Break(_footer, _small, _width - 50).ToArray();
        for (var at = 0; at < lines.Length; at++)
        {
            _page.DrawString(lines[at], _small, XBrushes.Black, new XRect(Margin, _height - Foot + (at * 10), _width - 50, 12), XStringFormats.TopLeft);
        }
    }
}
