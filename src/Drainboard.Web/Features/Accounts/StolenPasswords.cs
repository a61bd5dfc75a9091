using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// The passwords of <see cref="Passwords.Shortest"/> characters and more that stood in published thefts often enough to be on a list of the 437,651
/// most used: 11,976 of them, in either case (source and making: docs/decisions/0039). Kept as the first 8 bytes of their SHA-256, sorted, so that nobody's
/// own words lie about in the program.
/// </summary>
internal static class StolenPasswords
{
    private static readonly ulong[] Known = Read();

    public static int Count => Known.Length;

    public static bool Has(string password) =>
        Array.BinarySearch(Known, BinaryPrimitives.ReadUInt64BigEndian(SHA256.HashData(Encoding.UTF8.GetBytes(password.ToLowerInvariant())))) >= 0;

    private static ulong[] Read()
    {
        using var stream = typeof(StolenPasswords).Assembly.GetManifestResourceStream("stolen-passwords.bin")!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return [.. bytes.Chunk(sizeof(ulong)).Select(one => BinaryPrimitives.ReadUInt64BigEndian(one))];
    }
}
