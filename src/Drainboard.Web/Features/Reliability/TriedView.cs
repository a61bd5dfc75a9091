using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What was done at a fixture for write-ups of one kind, and how long it lasted.</summary>
/// <param name="Lasted">Days to the next write-up of the kind; to now where none came.</param>
/// <param name="Holds">None has come since.</param>
public sealed record TriedView(Guid Defect, Instant At, Found Found, string Where, string Steps, double Lasted, bool Holds)
{
    public string Words => $"{Found.Words()}{(Found == Found.Nothing ? "" : $", {Where}")}: {(Holds ? $"holds for {Days}" : $"lasted {Days}")}";

    private string Days => Lasted < 1 ? "less than a day" : Lasted < 2 ? "1 day" : $"{Math.Floor(Lasted):0} days";
}
