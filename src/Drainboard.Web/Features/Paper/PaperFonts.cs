using PdfSharp.Fonts;

namespace Drainboard.Web.Features.Paper;

/// <summary>The fonts that paper is set in: DejaVu Sans, shipped with the program (its licence beside it), because servers have none of their own.</summary>
internal sealed class PaperFonts : IFontResolver
{
    public const string Family = "Paper";

    private static readonly Lazy<bool> Once = new(() =>
    {
        GlobalFontSettings.FontResolver ??= new PaperFonts();
        return true;
    });

    public static void Use() => _ = Once.Value;

    public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "DejaVuSans-Bold" : "DejaVuSans");

    public byte[] GetFont(string faceName)
    {
        using var stream = typeof(PaperFonts).Assembly.GetManifestResourceStream($"{faceName}.ttf")!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
