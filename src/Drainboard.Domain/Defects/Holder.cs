using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Domain.Defects;

/// <summary>Who said "I have it", and since when.</summary>
public sealed record Holder(PersonId Person, string Name, Instant Since);
