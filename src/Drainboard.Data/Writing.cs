using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Data;

/// <summary>A fact with the person who stands behind it and its time.</summary>
public sealed record Deed(Fact Fact, Actor By, Instant At);

/// <summary>The sender's id for a wish, and a hash of what was wished.</summary>
public sealed record CommandKey(Guid Id, string PayloadHash);

/// <summary>
/// What goes with a save: who, when, the deeds for the record, and the command it answers. <see cref="Answer"/> is asked for
/// once versions are raised, so that the stored answer says the version that the caller will see.
/// </summary>
public sealed record Writing(Actor Actor, Instant Now, IReadOnlyList<Deed> Deeds, CommandKey? Command = null, Func<string>? Answer = null);
