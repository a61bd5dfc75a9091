using System.Text;
using SkiaSharp;

namespace Drainboard.Testing;

/// <summary>Pictures for tests: the left half red, the right half blue, so that which way up is which can be told.</summary>
public static class TestPhotos
{
    public const string Place = "SECRET-PLACE-48N";

    public static byte[] Jpeg(int width = 64, int height = 32) => Encode(width, height, SKEncodedImageFormat.Jpeg);

    public static byte[] Png(int width = 64, int height = 32) => Encode(width, height, SKEncodedImageFormat.Png);

    /// <summary>As a phone held upright saves it: stored lying down, with the note to turn it a quarter clockwise, and where it was taken.</summary>
    public static byte[] FromAPhone(int width = 64, int height = 32)
    {
        var jpeg = Jpeg(width, height);
        var place = Encoding.ASCII.GetBytes(Place + "\0");

        // TIFF, little-endian: two entries, ImageDescription (text, at 38) and Orientation (6).
        byte[] tiff =
        [
            (byte)'I', (byte)'I', 42, 0, 8, 0, 0, 0, 2, 0,
            0x0E, 0x01, 2, 0, (byte)place.Length, 0, 0, 0, 38, 0, 0, 0,
            0x12, 0x01, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0,
            0, 0, 0, 0, .. place,
        ];
        byte[] exif = [.. "Exif\0\0"u8, .. tiff];
        return [jpeg[0], jpeg[1], 0xFF, 0xE1, (byte)((exif.Length + 2) >> 8), (byte)(exif.Length + 2), .. exif, .. jpeg[2..]];
    }

    private static byte[] Encode(int width, int height, SKEncodedImageFormat format)
    {
        using var bitmap = new SKBitmap(width, height);
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.Blue);
            using var red = new SKPaint { Color = SKColors.Red };
            canvas.DrawRect(0, 0, width / 2f, height, red);
        }

        using var data = bitmap.Encode(format, 95);
        return data.ToArray();
    }
}
