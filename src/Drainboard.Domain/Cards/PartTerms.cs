namespace Drainboard.Domain.Cards;

/// <summary>A part or consumable as it is entered.</summary>
/// <param name="Name">What it is, in words.</param>
/// <param name="Quantity">With its unit, in words: "1", "20 ml".</param>
/// <param name="Batch">Serial or batch number.</param>
/// <param name="Certificate">Reference of its release certificate; empty: it has none.</param>
/// <param name="NeedsCertificate">Not a standard part or consumable that conforms by its own marking: without a certificate it may stay for 30 flight hours only.</param>
public sealed record PartTerms(PartState State, string Name, string PartNumber, string Quantity, string Batch, string Certificate, bool NeedsCertificate);
