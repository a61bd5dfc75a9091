using NodaTime;

namespace Drainboard.Data.Records;

/// <summary>A photo by the SHA-256 of its bytes: the same picture sent twice is stored once.</summary>
public sealed class Photo
{
    private Photo()
    {
    }

    public Photo(string sha256, string contentType, byte[] bytes, Instant at) => (Sha256, ContentType, Bytes, At) = (sha256, contentType, bytes, at);

    public string Sha256 { get; private set; } = "";

    public string ContentType { get; private set; } = "";

    public byte[] Bytes { get; private set; } = [];

    public Instant At { get; private set; }
}
