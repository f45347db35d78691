using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Remedies;

/// <summary>Which remedies are worth a try: for the nights and tasks where the runs say that it hurts.</summary>
internal static class Proposing
{
    private const int Strained = 3, Driving = 3, Replanned = 2;

    /// <summary>Those made in the plan as it is first, then those that need another; none twice.</summary>
    public static IEnumerable<Remedy> For(Problem problem, Schedule schedule, RiskOptions options, RiskReport report)
    {
        int[] strained = [.. report.Nights.Select(night => (Night: problem.NightOf(night.Night), Strain: 1 - night.InWindow.Share
                + PutOffFrom(problem, schedule, report, problem.NightOf(night.Night))))
            .Where(one => one.Strain > 0).OrderByDescending(one => one.Strain).Take(Strained).Select(one => one.Night)];
        int[] driving = [.. report.Tasks.Take(Driving).Select(task => problem.TaskOf(task.Task))];
        // In each strained night the task that its end waits for most.
        int[] holding = [.. strained.Select(night => report.Tasks.Where(task => IsIn(problem, schedule, task, night))
            .MaxBy(task => task.NightCriticality)).OfType<TaskRisk>().Select(task => problem.TaskOf(task.Task))];
        int[] tasks = [.. driving.Union(holding)];
        Remedy[] proposed =
        [
            .. LongerNight.For(problem, strained),
            .. OneMore.For(problem, schedule, tasks),
            .. WithoutWant.For(problem, report.Tasks.Select(task => problem.TaskOf(task.Task))).Take(Strained),
            .. EarlierKit.For(problem, tasks).Take(Replanned),
            .. MoreTime.For(problem, options, tasks).Take(Replanned),
        ];
        return proposed.DistinctBy(remedy => remedy.Change);
    }

    /// <summary>How often work of a night is put off: that of the task most often.</summary>
    private static double PutOffFrom(Problem problem, Schedule schedule, RiskReport report, int night) =>
        report.Tasks.Where(task => IsIn(problem, schedule, task, night)).Select(task => task.PutOff).DefaultIfEmpty().Max();

    private static bool IsIn(Problem problem, Schedule schedule, TaskRisk task, int night) => schedule.Work.Any(work =>
        work.Night == night && work.Stint is { } stint && problem.Stints[stint].Task.Id == task.Task);
}
