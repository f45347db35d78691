using System.Globalization;
using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Planning.Search;

namespace SetWeek.Bench.Contenders;

/// <summary>
/// The model that a textbook gives: an interval a task, a cumulative a resource, and for people an optional interval a
/// task, role and person, no two of one person overlapping. No hint, no bound, no row that follows from others; the solver with
/// its own settings.
/// </summary>
internal sealed class TextbookModel
{
    private readonly Problem problem;
    private readonly CpModel model = new();
    private readonly IntVar[] starts;
    private readonly List<(int Task, int Person, int Skill, BoolVar There)> hands = [];

    public TextbookModel(Problem problem)
    {
        this.problem = problem;
        var horizon = problem.Nights[0].Closes;
        starts = [.. problem.Activities.Select(_ => model.NewIntVar(0, horizon, ""))];
        var intervals = problem.Activities.Select(task => model.NewFixedSizeIntervalVar(starts[task.Index], Minutes(task), ""))
            .ToArray();
        foreach (var task in problem.Activities)
            foreach (var link in task.After)
                model.Add(starts[task.Index] >= starts[link.Task] + Minutes(problem.Activities[link.Task]));
        for (var piece = 0; piece < problem.EquipmentCounts.Count; piece++)
        {
            var cumulative = model.AddCumulative(problem.EquipmentCounts[piece]);
            foreach (var task in problem.Activities)
                foreach (var use in task.Ways[0].Equipment)
                    if (use.Equipment == piece) cumulative.AddDemand(intervals[task.Index], use.Count);
        }
        foreach (var task in problem.Activities) Staff(task);
        foreach (var person in problem.Crew)
            model.AddNoOverlap(hands.Where(hand => hand.Person == person.Index)
                .Select(hand => model
                    .NewOptionalFixedSizeIntervalVar(starts[hand.Task], Minutes(problem.Activities[hand.Task]), hand.There, "")));
        var makespan = model.NewIntVar(0, horizon, "");
        foreach (var task in problem.Activities) model.Add(makespan >= starts[task.Index] + Minutes(task));
        model.Minimize(makespan);
    }

    public Outcome Solve(Limits limits)
    {
        using var solver = new CpSolver
        {
            StringParameters = string.Create(CultureInfo.InvariantCulture,
                $"max_time_in_seconds:{limits.Time.TotalSeconds} num_workers:{limits.Workers} random_seed:{limits.Seed}"),
        };
        var status = solver.Solve(model);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible)) return new Outcome(null, 0, false);
        var work = problem.Activities
            .Select(task => new Work(0, task.FirstStint, 0, task.Zone, (int)solver.Value(starts[task.Index]),
            (int)solver.Value(starts[task.Index]) + Minutes(task),
            [.. hands.Where(hand => hand.Task == task.Index && solver.BooleanValue(hand.There))
                .Select(hand => new Hand(hand.Person, hand.Skill))]));
        return new Outcome(LongNightPlan.Of(problem, [.. work]), (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6),
            status == CpSolverStatus.Optimal);
    }

    private void Staff(Activity task)
    {
        foreach (var post in task.Ways[0].Posts)
        {
            var able = problem.Crew.Where(person => person.Has(post))
                .Select(person => (person.Index, There: model.NewBoolVar(""))).ToArray();
            model.Add(LinearExpr.Sum(able.Select(one => one.There)) == post.People);
            hands.AddRange(able.Select(one => (task.Index, one.Index, post.Skill, one.There)));
        }
    }

    private static int Minutes(Activity task) => task.Ways[0].Minutes;
}
