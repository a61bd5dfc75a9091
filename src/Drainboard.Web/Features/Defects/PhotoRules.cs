using Drainboard.Domain;

namespace Drainboard.Web.Features.Defects;

/// <summary>What we take as a photo.</summary>
public static class PhotoRules
{
    public const int LargestBytes = 10 * 1024 * 1024;

    /// <summary>The kind of picture by its first bytes, whatever its name says; null when it is none that we take.</summary>
    public static string? KindOf(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? "image/jpeg"
        : bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]) ? "image/png"
        : bytes.Length > 12 && bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8) ? "image/webp"
        : null;

    public static Refusal? WhyNot(byte[] bytes) =>
        bytes.Length is 0 or > LargestBytes
            ? new Refusal("photo-size", $"A photo is up to {LargestBytes / 1024 / 1024} MB; this one has {bytes.Length / 1024.0 / 1024.0:0.0} MB. Take it at a smaller size.")
        : KindOf(bytes) is null
            ? new Refusal("photo-kind", "This is not a JPEG, PNG or WebP picture. Send a photo.")
        : null;
}
