using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Domain.Handovers;

/// <summary>A lead who signed a handover with the own signing code.</summary>
public sealed record HandoverSigner(PersonId Person, string Name, Instant At);
