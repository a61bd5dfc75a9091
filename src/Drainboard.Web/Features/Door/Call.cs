using Drainboard.Domain.Accounts;

namespace Drainboard.Web.Features.Door;

/// <summary>
/// What comes with every wish for change: who, the sender's id for this wish (the same wish sent twice is done once), and,
/// for a change of something that exists, the version that the person saw.
/// </summary>
public sealed record Call(Actor Actor, Guid Command, long? SeenVersion = null)
{
    /// <summary>The person saw that there was none yet (If-None-Match: *).</summary>
    public const long SawNone = -1;
}
