using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Domain.Defects;

/// <summary>What is known of the device that sent a report: which one, where it is enrolled, and what its clock said as it sent.</summary>
public sealed record SendingDevice(ActingDevice? Device, Instant? ClockAtSending);
