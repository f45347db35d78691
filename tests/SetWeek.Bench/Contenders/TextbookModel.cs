using System.Globalization;
using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Planning.Search;

namespace SetWeek.Bench.Contenders;

/// <summary>
/// The textbook CP model: an interval for each task, a cumulative constraint for each resource, and an optional interval for each
/// task, role and person, with no overlap for a person. It has no hint, no bound and no redundant constraint, and the solver
/// runs with its default settings.
/// </summary>
internal sealed class TextbookModel
{
    private readonly Problem problem;
    private readonly CpModel model = new();
    private readonly IntVar[] starts;
    private readonly List<(int Task, int Person, int Skill, BoolVar Selected)> assignments = [];

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
        for (var equipment = 0; equipment < problem.EquipmentCapacities.Count; equipment++)
        {
            var cumulative = model.AddCumulative(problem.EquipmentCapacities[equipment]);
            foreach (var task in problem.Tasks)
                foreach (var use in task.Modes[0].Equipment)
                    if (use.Equipment == equipment) cumulative.AddDemand(intervals[task.Index], use.Count);
        }
        foreach (var task in problem.Tasks) PostAssignments(task);
        foreach (var person in problem.Crew)
            model.AddNoOverlap(assignments.Where(assignment => assignment.Person == person.Index)
                .Select(assignment => model
                    .NewOptionalFixedSizeIntervalVar(starts[assignment.Task], Minutes(problem.Tasks[assignment.Task]),
                        assignment.Selected, "")));
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
            [.. assignments.Where(assignment => assignment.Task == task.Index && solver.BooleanValue(assignment.Selected))
                .Select(assignment => new Assignment(assignment.Person, assignment.Skill))]));
        return new Outcome(LongNightPlan.Of(problem, [.. work]), (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6),
            status == CpSolverStatus.Optimal);
    }

    private void PostAssignments(IndexedTask task)
    {
        foreach (var required in task.Modes[0].RequiredSkills)
        {
            var candidates = problem.Crew.Where(person => person.Meets(required))
                .Select(person => (person.Index, Selected: model.NewBoolVar(""))).ToArray();
            model.Add(LinearExpr.Sum(candidates.Select(candidate => candidate.Selected)) == required.People);
            assignments.AddRange(candidates.Select(candidate =>
                (task.Index, candidate.Index, required.Skill, candidate.Selected)));
        }
    }

    private static int Minutes(IndexedTask task) => task.Modes[0].Minutes;
}
