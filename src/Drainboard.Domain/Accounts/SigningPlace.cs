using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Accounts;

/// <summary>Where and on what a signature is given: what an authorisation is held against.</summary>
/// <param name="Zone">The zone in which the day of an expiry is counted: that of the station where it is signed.</param>
/// <param name="Layout">Code of the aircraft's layout.</param>
/// <param name="IsOwnWork">The signer did it.</param>
public sealed record SigningPlace(DateTimeZone Zone, StationCode? Station, string Layout, FixtureKind Kind, bool IsOwnWork);
