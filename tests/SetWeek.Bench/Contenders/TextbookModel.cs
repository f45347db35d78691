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
    private readonly List<(int Task, int Person, int Skill, BoolVar There)> assignments = [];

    public TextbookModel(Problem problem)
    {
        this.problem = problem;
        var horizon = problem.Nights[0].Closes;
        starts = [.. problem.Tasks.Select(_ => model.NewIntVar(0, horizon, ""))];
        var intervals = problem.Tasks.Select(task => model.NewFixedSizeIntervalVar(starts[task.Index], Minutes(task), ""))
            .ToArray();
        foreach (var task in problem.Tasks)
            foreach (var precedence in task.Precedences)
                model.Add(starts[task.Index] >= starts[precedence.Predecessor] + Minutes(problem.Tasks[precedence.Predecessor]));
        for (var piece = 0; piece < problem.EquipmentCapacities.Count; piece++)
        {
            var cumulative = model.AddCumulative(problem.EquipmentCapacities[piece]);
            foreach (var task in problem.Tasks)
                foreach (var use in task.Modes[0].Equipment)
                    if (use.Equipment == piece) cumulative.AddDemand(intervals[task.Index], use.Count);
        }
        foreach (var task in problem.Tasks) Staff(task);
        foreach (var person in problem.Crew)
            model.AddNoOverlap(assignments.Where(hand => hand.Person == person.Index)
                .Select(hand => model
                    .NewOptionalFixedSizeIntervalVar(starts[hand.Task], Minutes(problem.Tasks[hand.Task]), hand.There, "")));
        var makespan = model.NewIntVar(0, horizon, "");
        foreach (var task in problem.Tasks) model.Add(makespan >= starts[task.Index] + Minutes(task));
        model.Minimize(makespan);
    }

    public Outcome Solve(SearchLimits limits)
    {
        using var solver = new CpSolver
        {
            StringParameters = string.Create(CultureInfo.InvariantCulture,
                $"max_time_in_seconds:{limits.Time.TotalSeconds} num_workers:{limits.Workers} random_seed:{limits.Seed}"),
        };
        var status = solver.Solve(model);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible)) return new Outcome(null, 0, false);
        var work = problem.Tasks
            .Select(task => new ScheduledWork(0, task.FirstStint, 0, task.Zone, (int)solver.Value(starts[task.Index]),
            (int)solver.Value(starts[task.Index]) + Minutes(task),
            [.. assignments.Where(hand => hand.Task == task.Index && solver.BooleanValue(hand.There))
                .Select(hand => new Assignment(hand.Person, hand.Skill))]));
        return new Outcome(LongNightPlan.Of(problem, [.. work]), (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6),
            status == CpSolverStatus.Optimal);
    }

    private void Staff(IndexedTask task)
    {
        foreach (var post in task.Modes[0].RequiredSkills)
        {
            var able = problem.Crew.Where(person => person.Meets(post))
                .Select(person => (person.Index, There: model.NewBoolVar(""))).ToArray();
            model.Add(LinearExpr.Sum(able.Select(one => one.There)) == post.People);
            assignments.AddRange(able.Select(one => (task.Index, one.Index, post.Skill, one.There)));
        }
    }

    private static int Minutes(IndexedTask task) => task.Modes[0].Minutes;
}
