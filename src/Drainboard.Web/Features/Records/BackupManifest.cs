using NodaTime;

namespace Drainboard.Web.Features.Records;

/// <summary>What a backup says of itself, in manifest.json beside the data.</summary>
/// <param name="Database">"sqlite" or "postgres": it is restored into the same kind.</param>
/// <param name="Sha256">Of the data file.</param>
/// <param name="Entries">How many entries the record had when the copy was begun, in how many chains, and how many seals had been published; it may have grown until the copy was done.</param>
public sealed record BackupManifest(string Format, Instant MadeAt, string Database, string Data, string Sha256, long Entries, long Chains, int Seals)
{
    public const string FormatName = "drainboard-backup-1";
    public const string FileName = "manifest.json";
}
