using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What was done at a fixture for write-ups of one kind, and how long it lasted.</summary>
/// <param name="Lasted">Days to the next write-up of the kind; to now where none came.</param>
/// <param name="Holds">None has come since.</param>
public sealed record TriedView(Guid Defect, Instant At, Found Found, string Where, string Steps, double Lasted, bool Holds)
{
    public string What => $"{Found.Words()}{(Found == Found.Nothing ? "" : $", {Where}")}";

    public string Words => $"{What}: {(Holds ? $"holds for {Days(Lasted)}" : $"lasted {Days(Lasted)}")}";

    internal static string Days(double lasted) => lasted < 1 ? "less than a day" : lasted < 2 ? "1 day" : $"{Math.Floor(lasted):0} days";
}
