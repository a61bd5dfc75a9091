using Drainboard.Domain;
using Drainboard.Domain.ShiftPlans;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>A draft and what the lead wants as a problem in minutes of the shift, and plans of it back again.</summary>
internal sealed class ShiftProblem
{
    private const int ChangeCost = 4;

    private readonly ShiftDraft _draft;
    private readonly ShiftWish _wish;
    private readonly Dictionary<string, ShiftItem> _items;

    private ShiftProblem(ShiftDraft draft, ShiftWish wish, StationPlan? told)
    {
        (_draft, _wish) = (draft, wish);
        var wishes = (wish.Items ?? []).DistinctBy(item => item.Defect).ToDictionary(item => item.Defect);
        var plannable = draft.Items.Where(item => item.WhyNot is null && wishes.GetValueOrDefault(item.Defect)?.Out != true).ToArray();
        _items = plannable.ToDictionary(item => item.Defect.ToString());
        Problem = new ShiftPlanProblem(
            [.. wish.People.Select(person => new PlanTechnician(person.Person.ToString(), Math.Max(0, Up(person.From ?? wish.From)), Math.Max(0, Down(person.To ?? wish.To)), ["work"]))],
            [
                .. plannable.Select(item => (Item: item, Wish: wishes.GetValueOrDefault(item.Defect))).Select(one => new PlanTask(one.Item.Defect.ToString(), one.Item.Minutes, one.Item.Weight + (IsPinned(one.Wish) || Holder(one.Item, one.Wish) is not null ? ItemWeight.Pinned : 0), "work", Math.Max(0, Up(one.Item.From)), Math.Max(0, Down(one.Item.To)))
                {
                    Stand = one.Item.Stand, Access = one.Item.Access, Barred = [.. one.Item.Barred.Concat(one.Wish?.Barred ?? []).Select(person => person.ToString())],
                    PinnedTo = (one.Wish?.PinnedTo ?? Holder(one.Item, one.Wish))?.ToString(), PinnedAt = one.Wish?.PinnedAt is { } at ? Up(at) : null,
                }),
            ],
            wish.WalkMinutes)
        {
            Previous = wish.KeepPlan && told is not null ? [.. told.Content.Items.Where(item => _items.ContainsKey(item.Defect.ToString())).Select(item => new PlanAssignment(item.Defect.ToString(), item.Person.ToString(), Up(item.Start)))] : [],
            ChangeCost = wish.KeepPlan ? ChangeCost : 0,
        };
    }

    public ShiftPlanProblem Problem { get; }

    /// <param name="told">The plan that was given out for this shift, if one was.</param>
    public static Refusal? Read(ShiftDraft draft, ShiftWish wish, StationPlan? told, out ShiftProblem? problem)
    {
        problem = null;
        if (StationPlan.WhyNot(wish.From, wish.To) is { } no)
        {
            return no;
        }

        if (wish.People.Count == 0)
        {
            return new Refusal("nobody", "Nobody is on this shift. Tick who is there.");
        }

        if (wish.People.FirstOrDefault(person => draft.People.All(known => known.Person != person.Person)) is not null)
        {
            return new Refusal("unknown-person", "Somebody named here is no technician of this station. Read the shift again.");
        }

        if (wish.People.Select(person => person.Person).Distinct().Count() != wish.People.Count || wish.People.FirstOrDefault(person => (person.To ?? wish.To) <= (person.From ?? wish.From)) is not null)
        {
            return new Refusal("hours-backward", "Everybody is named once, and nobody's hours end before they begin.");
        }

        if (wish.Chance is not (>= 0.5 and <= 0.95) || wish.WalkMinutes is < 0 or > 60)
        {
            return new Refusal("chance-or-walk", "The chance that times count with is 0.5 to 0.95, and walking takes 0 to 60 minutes.");
        }

        problem = new ShiftProblem(draft, wish, told);
        return null;
    }

    public IReadOnlyList<PlanAssignment> Assignments(IEnumerable<AssignedItem> assigned) => [.. assigned.Select(one => new PlanAssignment(one.Defect.ToString(), one.Person.ToString(), Up(one.Start)))];

    /// <summary>The plan in people and times, with the chance that each departure holds.</summary>
    public PlanContent Content(IReadOnlyList<PlanAssignment> assigned)
    {
        var plan = ShiftPlan.Of(Problem, assigned, int.MaxValue);
        var pinned = (_wish.Items ?? []).Where(IsPinned).Select(item => item.Defect).ToHashSet();
        var names = _draft.People.ToDictionary(person => person.Person, person => person.Name);
        var held = PlanRisk.Of(Problem, assigned, (task, chance) => _items[task].Work.Quantile(chance), _items.ToDictionary(item => item.Key, item => item.Value.Tail));
        return new PlanContent(
            [.. _wish.People.Select(person => new PlannedPerson(person.Person, names[person.Person], person.From ?? _wish.From, person.To ?? _wish.To))],
            [.. plan.Assigned.Select(one => (Item: _items[one.Task], One: one)).Select(pair => new PlannedItem(pair.Item.Defect, pair.Item.Number, pair.Item.Tail, pair.Item.Stand, pair.Item.Fixture, Guid.Parse(pair.One.Technician), _wish.From + Duration.FromMinutes(pair.One.Start), pair.Item.Minutes, pair.Item.Weight, pinned.Contains(pair.Item.Defect)))],
            [.. _draft.Items.Where(item => plan.Assigned.All(one => one.Task != item.Defect.ToString())).OrderByDescending(item => item.Weight).Select(item => new LeftItem(item.Defect, item.Tail, item.Fixture, Why(item, plan)))],
            [.. _draft.Turns.Where(turn => held.ContainsKey(turn.Tail)).Select(turn => new HeldTurn(turn.Tail, turn.DepartsAt, held[turn.Tail]))],
            plan.Objective, _wish.Chance);
    }

    private string Why(ShiftItem item, ShiftPlan plan) =>
        item.WhyNot ?? (Problem.Tasks.FirstOrDefault(task => task.Id == item.Defect.ToString()) is { } task ? WhyLeft.Of(Problem, plan, task) : "Taken out by the lead.");

    /// <summary>Who has it in hand, where they are there and neither the lead nor their authorisation says otherwise.</summary>
    private Guid? Holder(ShiftItem item, ItemWish? wish) =>
        item.Holder is { } holder && _wish.People.Any(person => person.Person == holder) && !item.Barred.Contains(holder) && wish?.Barred?.Contains(holder) != true ? holder : null;

    private static bool IsPinned(ItemWish? wish) => wish is { PinnedTo: not null } or { PinnedAt: not null };

    private int Up(Instant at) => (int)Math.Ceiling((at - _wish.From).TotalMinutes);

    private int Down(Instant at) => (int)Math.Floor((at - _wish.From).TotalMinutes);
}
