namespace Drainboard.Domain.Isolation;

/// <summary>What pouring into an untested fixture would tell, in bits, and how likely it is to be slow.</summary>
public sealed record PourGain(string Outlet, double SlowProbability, double Bits);
