namespace Drainboard.Web.Hosting;

/// <summary>The program cannot start, and the message says in one sentence what to do.</summary>
public sealed class StartRefusedException(string message, Exception? inner = null) : Exception(message, inner);
