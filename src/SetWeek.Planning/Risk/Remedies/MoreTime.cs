using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Remedies;

/// <summary>
/// A task planned with the time that it stays within in 80 of 100 cases: what follows it gets a buffer. It takes no longer for
/// that.
/// </summary>
internal sealed record MoreTime(TaskMinutes Minutes, int Task) : Remedy
{
    private const double Within = 0.8;

    public override WeekChange Change => Minutes;

    public override bool PlansAnew => true;

    public override string Sentence(Week week) =>
        $"{InWords.Task(week, week.Tasks[Task])} is planned with {Minutes.Minutes} minutes instead of "
        + $"{week.Tasks[Task].Modes[0].Minutes}.";

    public override Setting? Apply(Setting to) => (to with { Planned = Change.Apply(to.Planned) }).PlanAnew();

    public static IEnumerable<Remedy> For(Problem problem, RiskOptions options, IEnumerable<int> tasks)
    {
        var durations = new Durations(problem, options);
        foreach (var index in tasks)
        {
            var task = problem.Activities[index];
            // A re-plan may not give begun work another length.
            if (problem.Facts is { } facts
                && Enumerable.Range(task.FirstStint, task.StintCount).Any(stint => facts.Begun[stint] is not null)) continue;
            var estimate = durations.EstimateOf(task);
            var minutes = (int)Math.Ceiling(options.Spreading.Quantile(estimate, Within));
            if (minutes > estimate.Likely) yield return new MoreTime(new TaskMinutes(task.Id, minutes), index);
        }
    }
}
