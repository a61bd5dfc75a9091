namespace Drainboard.Domain.Fleet;

/// <summary>What a station can do, of the work that this program knows. Several together; none is a station that repairs nothing.</summary>
[Flags]
public enum Ability
{
    None = 0,
    Drains = 1,
    Toilets = 2,
    DrainMasts = 4,
    Potable = 8,
    VacuumGenerator = 16,

    /// <summary>The main line station or a main base: what was fitted without a certificate is off or certified on return (145.A.50(f)).</summary>
    MainBase = 32,
}
