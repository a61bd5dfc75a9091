using Drainboard.Domain.Isolation;
using Drainboard.Web.Shell;

namespace Drainboard.Web.Features.Plumbing;

/// <summary>What the picture says about one place beside its name.</summary>
/// <param name="State">The word and shape of what is worst there; null when nothing is.</param>
/// <param name="Pour">The newest pour, in words, and how it went; null when nobody poured lately.</param>
/// <param name="Blocked">How likely it is blocked, after evidence.</param>
public sealed record PipeMark(string? State = null, Shape Shape = Shape.Open, bool Warm = false, string? Pour = null, PourResult? Result = null, double? Blocked = null);
