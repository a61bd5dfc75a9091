using System.Security.Cryptography;
using System.Text;
using Drainboard.Domain.Defects;

namespace Drainboard.Web.Features.Defects;

/// <summary>The id of the wish to add one photo to one report: always the same for the same two, so that it is carried out once.</summary>
internal static class PhotoWish
{
    // RFC 9562, 5.8: a version 8 UUID holds bits of our own; here the first of a SHA-256.
    public static Guid IdOf(ReportId report, string sha256)
    {
        var bytes = SHA256.HashData(Encoding.UTF8.GetBytes($"photo {report.Value:N} {sha256.ToLowerInvariant()}"))[..16];
        bytes[6] = (byte)((bytes[6] & 0x0F) | 0x80);
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new Guid(bytes, bigEndian: true);
    }
}
