using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Tanks;

/// <summary>A waste tank emptied and pre-charged at the ramp. It never changes. Never one form, hose or cart with potable water.</summary>
public sealed class WasteService
{
    private WasteService()
    {
    }

    public TankServiceId Id { get; private set; }

    public TailId Tail { get; private set; }

    public Instant At { get; private set; }

    /// <summary>Litres taken out, by the truck's gauge; null: nobody read one.</summary>
    public int? LitresOut { get; private set; }

    /// <summary>Litres of fluid put in to begin with.</summary>
    public int PrechargeLitres { get; private set; }

    public string Leak { get; private set; } = "";

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    /// <summary>Records it. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="capacity">What the tank holds; null: not known.</param>
    public static Decision Record(TankServiceId id, Tail tail, Instant at, int? litresOut, int prechargeLitres, ServicePanelCheck panel, int? capacity, Actor by, Instant now, out WasteService? made)
    {
        made = null;
        var when = Instant.Min(at, now);
        var most = capacity ?? LayoutTanks.MostLitres;
        var no = tail.WhyNotAt(when) ?? panel.WhyNot()
            ?? (litresOut < 0 || prechargeLitres < 0 ? new Refusal("negative-litres", "Litres are 0 or more.") : null)
            ?? (litresOut > most ? new Refusal("more-than-the-tank", $"{litresOut} L out is more than the tank holds ({most} L). Check the truck's gauge; flushing water is not counted.") : null)
            ?? (prechargeLitres > most ? new Refusal("more-than-the-tank", $"A pre-charge of {prechargeLitres} L is more than the tank holds ({most} L).") : null);
        if (no is not null)
        {
            return no;
        }

        made = new WasteService { Id = id, Tail = tail.Id, At = when, LitresOut = litresOut, PrechargeLitres = prechargeLitres, Leak = panel.Leak.Trim(), By = by.Person, ByName = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(tail.Id), "tank.waste-service", tail.Id.Value, $"Waste tank emptied{(litresOut is { } litres ? $" of {litres} L" : "")}, pre-charged with {prechargeLitres} L{(made.Leak.Length > 0 ? $"; leak seen: {made.Leak}" : "")}.")
            .With("service", id.Value).With("litresOut", litresOut?.ToString(System.Globalization.CultureInfo.InvariantCulture)).With("prechargeLitres", prechargeLitres).With("at", when).With("deviceTime", at == when ? null : (Instant?)at).With("leak", made.Leak.Length > 0 ? made.Leak : null);
    }
}
