using Drainboard.Domain;
using Drainboard.Domain.Reliability;

namespace Drainboard.Web.Features.Reliability;

/// <summary>How long a strainer runs from one cleaning to the next blockage, over all tails of its layout, in days.</summary>
/// <param name="Ages">The shortest first. Those whose beginning nobody saw are left out.</param>
/// <param name="LeftOut">How many tails have no cleaning on record here, so that no age begins.</param>
/// <param name="Steps">The share still free, without any fitted curve.</param>
/// <param name="Interval">In days; null where none is advised, which the explanation says why.</param>
public sealed record LivesView(string Layout, string Position, string Name, IReadOnlyList<Age> Ages, int LeftOut, IReadOnlyList<SurvivalStep> Steps, WeibullFit? Life, double PlannedCost, double UnplannedCost, double? Interval, double? Saving, IReadOnlyList<Explained> Explanation);
