using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>Proposes mitigations for the nights that run over most and the tasks that drive the risk most.</summary>
internal static class MitigationProposals
{
    private const int MaxStrainedNights = 3, MaxDrivingTasks = 3, MaxKits = 2;

    /// <summary>First those that change the plan as it is, then those that show only in a new one; without duplicates.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, Schedule schedule, RiskReport report)
    {
        int[] strained = [.. report.Nights.Select(night => (Night: problem.NightOf(night.Night), Strain: 1 - night.InWindow.Share
                + PutOffShare(problem, schedule, report, problem.NightOf(night.Night))))
            .Where(pair => pair.Strain > 0).OrderByDescending(pair => pair.Strain).Take(MaxStrainedNights)
            .Select(pair => pair.Night)];
        int[] driving = [.. report.Tasks.Take(MaxDrivingTasks).Select(task => problem.TaskOf(task.Task))];
        // In each strained night, the task that is critical for its end most often.
        int[] nightCritical = [.. strained.Select(night => report.Tasks.Where(task => IsPlannedIn(problem, schedule, task, night))
            .MaxBy(task => task.NightCriticality)).OfType<TaskRisk>().Select(task => problem.TaskOf(task.Task))];
        int[] tasks = [.. driving.Union(nightCritical)];
        MitigationCandidate[] proposed =
        [
            .. LongerNight.For(problem, strained),
            .. ExtraPersonForTask.For(problem, schedule, tasks),
            .. OmittedDisplay.For(problem, report.Tasks.Select(task => problem.TaskOf(task.Task))).Take(MaxStrainedNights),
            .. EarlierKit.For(problem, tasks).Take(MaxKits),
        ];
        return proposed.DistinctBy(candidate => candidate.Change);
    }

    /// <summary>The largest share of runs that put off a task planned in the night.</summary>
    private static double PutOffShare(Problem problem, Schedule schedule, RiskReport report, int night) =>
        report.Tasks.Where(task => IsPlannedIn(problem, schedule, task, night)).Select(task => task.PutOff)
            .DefaultIfEmpty().Max();

    private static bool IsPlannedIn(Problem problem, Schedule schedule, TaskRisk task, int night) => schedule.Work.Any(work =>
        work.Night == night && work.Stint is { } stint && problem.Stints[stint].Task.Id == task.Task);
}
