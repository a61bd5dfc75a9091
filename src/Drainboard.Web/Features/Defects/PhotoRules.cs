using Drainboard.Domain;
using SkiaSharp;

namespace Drainboard.Web.Features.Defects;

/// <summary>
/// What we take as a photo, and what we keep of it: the picture itself, upright, at a size that shows a seal, encoded anew. So nothing comes
/// with it that the picture does not show: no place, no device, nothing hidden behind it.
/// </summary>
public static class PhotoRules
{
    public const int LargestBytes = 10 * 1024 * 1024;
    public const string StoredKind = "image/jpeg";
    private const int MostPixels = 40_000_000;
    private const int LongestEdge = 2048;
    private const int Quality = 85;

    // A large picture takes 160 MB while it is unpacked.
    private static readonly SemaphoreSlim Turns = new(2, 2);

    /// <returns>The bytes to keep, or why it is not taken.</returns>
    public static async Task<(byte[]? Kept, Refusal? No)> TakeAsync(byte[] bytes, CancellationToken stop)
    {
        if (WhyNot(bytes) is { } no)
        {
            return (null, no);
        }

        await Turns.WaitAsync(stop);
        try
        {
            return Encode(bytes);
        }
        finally
        {
            Turns.Release();
        }
    }

    private static (byte[]? Kept, Refusal? No) Encode(byte[] bytes)
    {
        using var data = SKData.CreateCopy(bytes);
        using var codec = SKCodec.Create(data);
        if (codec is null)
        {
            return (null, Damaged);
        }

        var size = codec.Info;
        if ((long)size.Width * size.Height > MostPixels)
        {
            return (null, new Refusal("photo-pixels", $"This picture has {(long)size.Width * size.Height / 1_000_000.0:0} million pixels; {MostPixels / 1_000_000} fit. Take it at a smaller size."));
        }

        using var raw = new SKBitmap(new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul));
        if (codec.GetPixels(raw.Info, raw.GetPixels()) != SKCodecResult.Success)
        {
            return (null, Damaged);
        }

        var turned = codec.EncodedOrigin is SKEncodedOrigin.LeftTop or SKEncodedOrigin.RightTop or SKEncodedOrigin.RightBottom or SKEncodedOrigin.LeftBottom;
        var (width, height) = turned ? (size.Height, size.Width) : (size.Width, size.Height);
        var scale = Math.Min(1f, LongestEdge / (float)Math.Max(width, height));
        using var surface = SKSurface.Create(new SKImageInfo(Math.Max(1, (int)(width * scale)), Math.Max(1, (int)(height * scale))));
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale(scale);
        surface.Canvas.Concat(Upright(codec.EncodedOrigin, width, height));
        using var picture = SKImage.FromBitmap(raw);
        surface.Canvas.DrawImage(picture, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        using var snapshot = surface.Snapshot();
        using var kept = snapshot.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return (kept.ToArray(), null);
    }

    // Exif 2.3, tag Orientation: how the stored rows and columns lie in the upright picture of this width and height.
    private static SKMatrix Upright(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new SKMatrix(0, -1, width, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, width, -1, 0, height, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, height, 0, 0, 1),
        _ => SKMatrix.Identity,
    };

    private static Refusal? WhyNot(byte[] bytes) =>
        bytes.Length is 0 or > LargestBytes
            ? new Refusal("photo-size", $"A photo is up to {LargestBytes / 1024 / 1024} MB; this one has {bytes.Length / 1024.0 / 1024.0:0.0} MB. Take it at a smaller size.")
        : !IsPicture(bytes)
            ? new Refusal("photo-kind", "This is not a JPEG, PNG or WebP picture. Send a photo.")
        : null;

    // By its first bytes, whatever its name says.
    private static bool IsPicture(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF])
        || bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A])
        || (bytes.Length > 12 && bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8));

    private static Refusal Damaged { get; } = new("photo-damaged", "This picture cannot be read to its end: it was cut short or damaged. Take it again.");
}
