using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <param name="From">Null: from the shift's beginning; <paramref name="To"/>: to its end.</param>
public sealed record ShiftPerson(Guid Person, Instant? From = null, Instant? To = null);

/// <summary>What a lead decides about one item.</summary>
/// <param name="PinnedTo">Who does it, if anybody.</param>
/// <param name="PinnedAt">When it begins, if it is done.</param>
/// <param name="Barred">Who does not.</param>
/// <param name="Out">It is not for this shift.</param>
public sealed record ItemWish(Guid Defect, Guid? PinnedTo = null, Instant? PinnedAt = null, IReadOnlyList<Guid>? Barred = null, bool Out = false);

/// <summary>What is to be planned.</summary>
/// <param name="Chance">Times count as long as is enough with this chance, 0.5 to 0.95.</param>
/// <param name="WalkMinutes">Between stands.</param>
/// <param name="KeepPlan">A plan that was given out is changed as little as can be.</param>
public sealed record ShiftWish(Instant From, Instant To, IReadOnlyList<ShiftPerson> People, IReadOnlyList<ItemWish>? Items = null, double Chance = 0.7, int WalkMinutes = 6, bool KeepPlan = true);
