namespace Drainboard.Domain.Records;

/// <summary>What this installation is to the aircraft's official log.</summary>
public enum LogMode
{
    /// <summary>The aircraft log governs; this is a working copy beside it. The default.</summary>
    BesideLog,

    /// <summary>This is the record, under an approval whose reference is entered.</summary>
    AsRecord,
}
