using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Tanks;

/// <summary>Potable water taken on at the ramp. It never changes. Never one form, hose or cart with waste.</summary>
public sealed class PotableUplift
{
    public const int LongestSource = 80;

    private PotableUplift()
    {
    }

    public TankServiceId Id { get; private set; }

    public TailId Tail { get; private set; }

    public Instant At { get; private set; }

    /// <summary>Litres taken on, 0 or more.</summary>
    public int Litres { get; private set; }

    /// <summary>The tank is full now: what it took is what was used since it was full before.</summary>
    public bool IsFull { get; private set; }

    /// <summary>The watering point, truck or cart.</summary>
    public string Source { get; private set; } = "";

    public string Leak { get; private set; } = "";

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    /// <summary>Records it. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="capacity">What the tank holds; null: not known.</param>
    public static Decision Record(TankServiceId id, Tail tail, Instant at, int litres, bool isFull, string source, ServicePanelCheck panel, int? capacity, Actor by, Instant now, out PotableUplift? made)
    {
        made = null;
        var when = Instant.Min(at, now);
        var no = tail.WhyNotAt(when) ?? panel.WhyNot()
            ?? (litres < 0 ? new Refusal("negative-uplift", "Litres taken on are 0 or more. Water that was drained is not an uplift.") : null)
            ?? (litres > (capacity ?? LayoutTanks.MostLitres) ? new Refusal("more-than-the-tank", $"{litres} L is more than the tank holds ({capacity ?? LayoutTanks.MostLitres} L). Check the gauge or the truck's ticket.") : null)
            ?? (source.Trim().Length is 0 or > LongestSource ? new Refusal("no-source", $"Name the watering point, truck or cart, in up to {LongestSource} characters: only approved points serve (21 CFR 1240.80).") : null);
        if (no is not null)
        {
            return no;
        }

        made = new PotableUplift { Id = id, Tail = tail.Id, At = when, Litres = litres, IsFull = isFull, Source = source.Trim(), Leak = panel.Leak.Trim(), By = by.Person, ByName = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(tail.Id), "tank.potable-uplift", tail.Id.Value, $"Potable water: {litres} L taken on from {made.Source}{(isFull ? ", the tank is full" : "")}{(made.Leak.Length > 0 ? $"; leak seen: {made.Leak}" : "")}.")
            .With("service", id.Value).With("litres", litres).With("full", isFull).With("source", made.Source).With("at", when).With("deviceTime", at == when ? null : (Instant?)at).With("leak", made.Leak.Length > 0 ? made.Leak : null);
    }
}
