namespace Drainboard.Web.Features.Records;

/// <summary>A backup or restore that cannot be done; the message says why and what to do.</summary>
public sealed class BackupFailedException(string message, Exception? inner = null) : Exception(message, inner);
