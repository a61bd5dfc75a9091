using Drainboard.Domain.ShiftPlans;
using Google.OrTools.Sat;

namespace Drainboard.Planning;

/// <summary>A shift plan as a constraint model: an optional interval for each task and each technician who may do it.</summary>
internal sealed class ShiftPlanModel
{
    private readonly ShiftPlanProblem _problem;
    private readonly Dictionary<string, (IntVar Start, BoolVar Done)> _tasks = [];
    private readonly Dictionary<(string Task, string Who), BoolVar> _does = [];
    private readonly Dictionary<(string, string), BoolVar> _orders = [];

    public ShiftPlanModel(ShiftPlanProblem problem)
    {
        _problem = problem;
        foreach (var task in problem.Tasks)
        {
            Add(task);
        }

        var everyPairWalks = problem.WalkMinutes > 0 && problem.Tasks.Where(task => task.Stand.Length > 0).GroupBy(task => task.Stand).All(stand => stand.Count() == 1);
        foreach (var who in problem.Technicians)
        {
            Model.AddNoOverlap(Mine(who).Select(one => Model.NewOptionalFixedSizeIntervalVar(_tasks[one.Task.Id].Start, one.Task.Minutes + (everyPairWalks ? problem.WalkMinutes : 0), one.Does, $"{one.Task.Id} {who.Id}")));
        }

        if (problem.WalkMinutes > 0 && !everyPairWalks)
        {
            Walk();
        }

        foreach (var place in problem.Tasks.Where(task => task.Access.Length > 0 && _tasks.ContainsKey(task.Id)).GroupBy(task => task.Access).Where(place => place.Count() > 1))
        {
            Model.AddNoOverlap(place.Select(task => Model.NewOptionalFixedSizeIntervalVar(_tasks[task.Id].Start, task.Minutes, _tasks[task.Id].Done, $"{task.Id} {place.Key}")));
        }

        foreach (var task in problem.Tasks.Where(task => _tasks.ContainsKey(task.Id)))
        {
            Follow(task);
        }

        Value = LinearExpr.Sum(problem.Tasks.Where(task => _tasks.ContainsKey(task.Id)).Select(task => _tasks[task.Id].Done * task.Weight).Concat(Changes()));
    }

    public CpModel Model { get; } = new();

    public LinearExpr Value { get; }

    public void Hint(IEnumerable<PlanAssignment> plan)
    {
        var known = plan.ToDictionary(one => one.Task);
        foreach (var ((task, who), does) in _does)
        {
            Model.AddHint(does, known.GetValueOrDefault(task)?.Technician == who);
        }

        foreach (var (id, task) in _tasks)
        {
            Model.AddHint(task.Done, known.ContainsKey(id));
            if (known.TryGetValue(id, out var one))
            {
                Model.AddHint(task.Start, one.Start);
            }
        }

        foreach (var ((first, second), order) in _orders)
        {
            if (known.TryGetValue(first, out var one) && known.TryGetValue(second, out var other))
            {
                Model.AddHint(order, one.Start <= other.Start);
            }
        }
    }

    public IReadOnlyCollection<PlanAssignment> Read(Func<BoolVar, bool> isTrue, Func<IntVar, long> value) =>
        [.. _does.Where(one => isTrue(one.Value)).Select(one => new PlanAssignment(one.Key.Task, one.Key.Who, (int)value(_tasks[one.Key.Task].Start)))];

    private void Add(PlanTask task)
    {
        var able = _problem.Technicians.Where(task.MayBeDoneBy).Select(who => (Who: who, Starts: task.Starts(who))).Where(one => one.Starts.First <= one.Starts.Last).ToArray();
        if (able.Length == 0)
        {
            return;
        }

        var start = Model.NewIntVar(able.Min(one => one.Starts.First), able.Max(one => one.Starts.Last), $"start {task.Id}");
        var done = Model.NewBoolVar($"done {task.Id}");
        foreach (var (who, starts) in able)
        {
            var does = Model.NewBoolVar($"{who.Id} does {task.Id}");
            Model.AddLinearConstraint(start, starts.First, starts.Last).OnlyEnforceIf(does);
            _does[(task.Id, who.Id)] = does;
        }

        Model.Add(LinearExpr.Sum(able.Select(one => _does[(task.Id, one.Who.Id)])) == done);
        _tasks[task.Id] = (start, done);
    }

    private IEnumerable<(PlanTask Task, BoolVar Does)> Mine(PlanTechnician who) =>
        _problem.Tasks.Where(task => _does.ContainsKey((task.Id, who.Id))).Select(task => (task, _does[(task.Id, who.Id)]));

    // Between stands somebody walks: for every pair that one technician could have and whose windows come near each other.
    private void Walk()
    {
        var tasks = _problem.Tasks.Where(task => _tasks.ContainsKey(task.Id)).ToArray();
        for (var one = 0; one < tasks.Length; one++)
        {
            for (var other = one + 1; other < tasks.Length; other++)
            {
                var (first, second) = (tasks[one], tasks[other]);
                var both = _problem.Technicians.Where(who => _does.ContainsKey((first.Id, who.Id)) && _does.ContainsKey((second.Id, who.Id))).ToArray();
                var walk = _problem.WalkBetween(first, second);
                if (walk == 0 || both.Length == 0 || first.WindowTo + walk <= second.WindowFrom || second.WindowTo + walk <= first.WindowFrom)
                {
                    continue;
                }

                var (same, order) = (Model.NewBoolVar(""), Model.NewBoolVar(""));
                _orders[(first.Id, second.Id)] = order;
                foreach (var who in both)
                {
                    Model.AddBoolOr([_does[(first.Id, who.Id)].Not(), _does[(second.Id, who.Id)].Not(), same]);
                }

                Model.Add(_tasks[second.Id].Start >= _tasks[first.Id].Start + first.Minutes + walk).OnlyEnforceIf([same, order]);
                Model.Add(_tasks[first.Id].Start >= _tasks[second.Id].Start + second.Minutes + walk).OnlyEnforceIf([same, order.Not()]);
            }
        }
    }

    private void Follow(PlanTask task)
    {
        foreach (var before in task.After)
        {
            if (!_tasks.TryGetValue(before, out var earlier))
            {
                Model.Add(_tasks[task.Id].Done == 0);
                continue;
            }

            Model.AddImplication(_tasks[task.Id].Done, earlier.Done);
            Model.Add(_tasks[task.Id].Start >= earlier.Start + _problem.Tasks.Single(other => other.Id == before).Minutes).OnlyEnforceIf(_tasks[task.Id].Done);
        }
    }

    private IEnumerable<LinearExpr> Changes()
    {
        if (_problem.ChangeCost <= 0)
        {
            yield break;
        }

        foreach (var told in _problem.Previous.Where(one => _tasks.ContainsKey(one.Task)))
        {
            // Kept: the same technician, about the same time. Done and not kept costs.
            var (kept, changed) = (Model.NewBoolVar($"kept {told.Task}"), Model.NewBoolVar($"changed {told.Task}"));
            if (_does.TryGetValue((told.Task, told.Technician), out var does))
            {
                Model.AddImplication(kept, does);
                Model.AddLinearConstraint(_tasks[told.Task].Start, told.Start - ShiftPlanProblem.FreeMove, told.Start + ShiftPlanProblem.FreeMove).OnlyEnforceIf(kept);
            }
            else
            {
                Model.Add(kept == 0);
            }

            Model.AddBoolOr([_tasks[told.Task].Done.Not(), kept, changed]);
            yield return changed * -_problem.ChangeCost;
        }
    }
}
