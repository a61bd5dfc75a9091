using Drainboard.Domain.Defects;
using NodaTime;

namespace Drainboard.Data.Records;

/// <summary>A piece of a photo on its way: kept until the whole has arrived, so that an upload goes on where it broke off.</summary>
public sealed class PhotoPart
{
    private PhotoPart()
    {
    }

    public PhotoPart(ReportId report, string sha256, int offset, byte[] bytes, Instant at) => (Report, Sha256, Offset, Bytes, Length, At) = (report, sha256, offset, bytes, bytes.Length, at);

    public ReportId Report { get; private set; }

    /// <summary>Of the whole photo as the device sends it.</summary>
    public string Sha256 { get; private set; } = "";

    public int Offset { get; private set; }

    public int Length { get; private set; }

    public byte[] Bytes { get; private set; } = [];

    public Instant At { get; private set; }
}
