using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>
/// A part or consumable that an item waits for or that was fitted. One fitted without its release certificate stays for 30 flight hours or
/// until the aircraft first returns to the main line station or main base, whichever is sooner (145.A.50(f)).
/// </summary>
public sealed class Part
{
    /// <summary>Flight hours that a component without a release certificate may stay fitted (145.A.50(f)).</summary>
    public const int HoursWithoutCertificate = 30;

    private Part()
    {
    }

    public PartId Id { get; private set; }

    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    public Position Position { get; private set; }

    public PartState State { get; private set; }

    public string Name { get; private set; } = "";

    public string PartNumber { get; private set; } = "";

    public string Quantity { get; private set; } = "";

    public string Batch { get; private set; } = "";

    public string Certificate { get; private set; } = "";

    public bool NeedsCertificate { get; private set; }

    /// <summary>Where it was fitted; null where nobody knows.</summary>
    public StationCode? Station { get; private set; }

    public string ByName { get; private set; } = "";

    /// <summary>When it was noted; for a fitted one, when it was fitted.</summary>
    public Instant At { get; private set; }

    public long Version { get; private set; }

    /// <summary>Fitted without its release certificate: a clock of its own runs.</summary>
    public bool IsOnLimit => State == PartState.Fitted && NeedsCertificate && Certificate.Length == 0;

    public string Words => string.Join(", ", new[] { $"{Name}{(Quantity is "" or "1" ? "" : $" ({Quantity})")}", PartNumber.Length > 0 ? $"P/N {PartNumber}" : "", Batch.Length > 0 ? $"S/N or batch {Batch}" : "", Certificate.Length > 0 ? $"certificate {Certificate}" : "" }.Where(words => words.Length > 0));

    /// <param name="atMainBase">The aircraft stands at the main line station or a main base, where 145.A.50(f) does not apply.</param>
    public static Decision Note(PartId id, Defect defect, PartTerms terms, StationCode? station, bool atMainBase, Actor by, Instant now, out Part? made)
    {
        made = null;
        if ((Lifecycle.WhyNot(defect.State, Act.NotePart) ?? WhyNot(terms) ?? WhyNotHere(terms, atMainBase)) is { } no)
        {
            return no;
        }

        if (defect.State == DefectState.Closed)
        {
            return new Refusal("closed", "This item is closed: no part is added to it. Its certificate may still come, or it may come off again.");
        }

        made = new Part { Id = id, Defect = defect.Id, Tail = defect.Tail, Position = defect.Position };
        made.Fill(terms, station, by, now);
        return made.Tell(defect, terms.State == PartState.Awaited ? $"Part awaited: {made.Words}." : $"Part fitted: {made.Words}.{made.LimitWords}");
    }

    /// <summary>What was awaited came and is fitted, a certificate arrived, or it is gone again.</summary>
    public Decision Change(Defect defect, PartTerms terms, StationCode? station, bool atMainBase, Actor by, Instant now)
    {
        if ((Lifecycle.WhyNot(defect.State, Act.NotePart) ?? WhyNot(terms) ?? (State == PartState.Awaited ? WhyNotHere(terms, atMainBase) : null)) is { } no)
        {
            return no;
        }

        if (defect.State == DefectState.Closed && (State != PartState.Fitted))
        {
            return new Refusal("closed", "This item is closed: what was awaited is not fitted on it any more. Write the fault up again.");
        }

        if (State == PartState.Gone || (State == PartState.Fitted && terms.State == PartState.Awaited))
        {
            return new Refusal("part-state", State == PartState.Gone ? "This part is settled. Note another one." : "A fitted part is not awaited. Note the one that you wait for as another part.");
        }

        var (before, certificate, limited) = (State, Certificate, NeedsCertificate);
        Fill(terms, State == PartState.Fitted ? Station : station, by, State == PartState.Fitted ? At : now);
        return Tell(defect, (before, State) switch
        {
            (_, PartState.Gone) => $"Part {(before == PartState.Awaited ? "no longer awaited" : "taken off")}: {Words}.",
            (PartState.Awaited, PartState.Fitted) => $"Part fitted: {Words}.{LimitWords}",
            _ when limited && !NeedsCertificate => $"{Words}: said to be a standard part or consumable that needs no release certificate.",
            _ => Certificate == certificate ? $"Part corrected: {Words}." : $"Release certificate of {Name}: {Certificate}.",
        });
    }

    private string LimitWords => IsOnLimit ? $" No release certificate: {HoursWithoutCertificate} flight hours or the first return to the main line station or main base, whichever is sooner." : "";

    private static Refusal? WhyNot(PartTerms terms) =>
        terms.Name.Trim().Length is 0 or > 80
            ? new Refusal("part-name", "Say in up to 80 characters what part or consumable it is.")
        : terms.PartNumber.Length > 40 || terms.Batch.Length > 40 || terms.Certificate.Length > 60 || terms.Quantity.Length > 20
            ? new Refusal("part-long", "Part number and batch have up to 40 characters, the certificate 60, the quantity 20.")
        : null;

    private static Refusal? WhyNotHere(PartTerms terms, bool atMainBase) =>
        atMainBase && terms is { State: PartState.Fitted, NeedsCertificate: true } && terms.Certificate.Trim().Length == 0
            ? new Refusal("needs-certificate", "At the main line station or a main base a component is fitted with its release certificate only (145.A.50(f) is for other places). Enter the certificate, or note the part as awaited.")
            : null;

    private void Fill(PartTerms terms, StationCode? station, Actor by, Instant at) =>
        (State, Name, PartNumber, Quantity, Batch, Certificate, NeedsCertificate, Station, ByName, At) = (terms.State, terms.Name.Trim(), terms.PartNumber.Trim(), terms.Quantity.Trim(), terms.Batch.Trim(), terms.Certificate.Trim(), terms.NeedsCertificate, station, by.Name, at);

    private Fact Tell(Defect defect, string words) =>
        defect.Fact("part.noted", words).With("part", Id.Value).With("partState", State).With("partNumber", PartNumber).With("batch", Batch).With("certificate", Certificate).With("needsCertificate", NeedsCertificate).With("fittedAt", State == PartState.Fitted ? At : null);
}
