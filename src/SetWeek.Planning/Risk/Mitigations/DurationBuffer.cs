using SetWeek.Model.Changes;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>
/// Plans a task with the 80th percentile of its duration, which gives its successors a buffer. The simulated durations stay the
/// same.
/// </summary>
internal sealed record DurationBuffer(TaskMinutes Minutes, int Task) : MitigationCandidate
{
    private const double BufferQuantile = 0.8;

    public override WeekChange Change => Minutes;

    public override bool NeedsNewPlan => true;

    public override string Sentence(Week week) =>
        $"{WeekPhrases.Task(week, week.Tasks[Task])} is planned with {Minutes.Minutes} minutes instead of "
        + $"{week.Tasks[Task].Modes[0].Minutes}.";

    public override MitigationCase? Apply(MitigationCase mitigationCase) =>
        (mitigationCase with { PlanningWeek = Change.Apply(mitigationCase.PlanningWeek) }).PlanAgain();

    /// <summary>One for each of the tasks whose 80th percentile is longer than its most likely duration.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, RiskOptions options, IEnumerable<int> tasks)
    {
        var durations = new DurationModel(problem, options);
        foreach (var index in tasks)
        {
            var task = problem.Tasks[index];
            // A re-plan cannot change the duration of work that has begun.
            if (problem.Facts is { } facts
                && Enumerable.Range(task.FirstStint, task.StintCount).Any(stint => facts.BegunWork[stint] is not null)) continue;
            var estimate = durations.EstimateOf(task);
            var minutes = (int)Math.Ceiling(options.Distribution.Quantile(estimate, BufferQuantile));
            if (minutes > estimate.MostLikely) yield return new DurationBuffer(new TaskMinutes(task.Id, minutes), index);
        }
    }
}
