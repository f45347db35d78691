using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>Which remedies are worth a try: for the nights and tasks where the runs say that it hurts.</summary>
internal static class MitigationProposals
{
    private const int MaxStrainedNights = 3, MaxDrivingTasks = 3, MaxReplanned = 2;

    /// <summary>Those made in the plan as it is first, then those that need another; none twice.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, Schedule schedule, RiskOptions options, RiskReport report)
    {
        int[] strained = [.. report.Nights.Select(night => (Night: problem.NightOf(night.Night), Strain: 1 - night.InWindow.Share
                + PutOffShare(problem, schedule, report, problem.NightOf(night.Night))))
            .Where(one => one.Strain > 0).OrderByDescending(one => one.Strain).Take(MaxStrainedNights).Select(one => one.Night)];
        int[] driving = [.. report.Tasks.Take(MaxDrivingTasks).Select(task => problem.TaskOf(task.Task))];
        // In each strained night the task that its end waits for most.
        int[] holding = [.. strained.Select(night => report.Tasks.Where(task => IsPlannedIn(problem, schedule, task, night))
            .MaxBy(task => task.NightCriticality)).OfType<TaskRisk>().Select(task => problem.TaskOf(task.Task))];
        int[] tasks = [.. driving.Union(holding)];
        MitigationCandidate[] proposed =
        [
            .. LongerNight.For(problem, strained),
            .. ExtraPersonForTask.For(problem, schedule, tasks),
            .. OmittedDisplay.For(problem, report.Tasks.Select(task => problem.TaskOf(task.Task))).Take(MaxStrainedNights),
            .. EarlierKit.For(problem, tasks).Take(MaxReplanned),
            .. DurationBuffer.For(problem, options, tasks).Take(MaxReplanned),
        ];
        return proposed.DistinctBy(remedy => remedy.Change);
    }

    /// <summary>How often work of a night is put off: that of the task most often.</summary>
    private static double PutOffShare(Problem problem, Schedule schedule, RiskReport report, int night) =>
        report.Tasks.Where(task => IsPlannedIn(problem, schedule, task, night)).Select(task => task.PutOff).DefaultIfEmpty().Max();

    private static bool IsPlannedIn(Problem problem, Schedule schedule, TaskRisk task, int night) => schedule.Work.Any(work =>
        work.Night == night && work.Stint is { } stint && problem.Stints[stint].Task.Id == task.Task);
}
