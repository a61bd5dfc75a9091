using Drainboard.Domain.Tanks;
using NodaTime;

namespace Drainboard.Web.Features.Tanks;

/// <param name="After">At its end.</param>
public sealed record TankSector(string From, string To, Instant OffBlock, double Hours, TankPoint After);

/// <param name="Words">What was entered.</param>
public sealed record TankServiceLine(Instant At, string Words, string By);

/// <summary>One of a tail's tanks: what it holds likely, and how that goes on.</summary>
/// <param name="Capacity">Usable litres; null: not entered, and nothing can be said of running out.</param>
/// <param name="Since">The last service from which the level is known; null: none on record.</param>
/// <param name="Now">Null where capacity or the last service is not known.</param>
/// <param name="ServeBefore">Which of the next sectors it should be serviced before; null: none of those shown.</param>
/// <param name="PerPassengerHour">Litres, best guess; four of five times between <paramref name="Low"/> and <paramref name="High"/>.</param>
/// <param name="Measured">How many services it rests on, the values that everybody begins with apart.</param>
/// <param name="Rule">What is out, and what else it rests on, in words.</param>
public sealed record TankView(int? Capacity, Instant? Since, TankPoint? Now, IReadOnlyList<TankSector> Next, int? ServeBefore, double PerPassengerHour, double Low, double High, int Measured, IReadOnlyList<string> Rule, IReadOnlyList<TankServiceLine> Services);

/// <summary>A tail's potable water and waste.</summary>
/// <param name="Risk">Service is advised before a sector on which running out is likelier than this.</param>
public sealed record TanksView(string Tail, string Layout, string Zone, Instant Now, double Risk, TankView Potable, TankView Waste);
