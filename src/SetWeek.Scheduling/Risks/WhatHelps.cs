using SetWeek.Scheduling.Risks.Remedies;

namespace SetWeek.Scheduling.Risks;

/// <summary>
/// Looks at what drives a plan's risk, tries remedies for it in the same luck and names the one that does most for the launch,
/// and the one that adds most to that; where it is the same for the launch, for the stints that are put off and for the nights.
/// </summary>
public static class WhatHelps
{
    private const int ScreeningRuns = 2000, Finalists = 4, Strained = 3, Driving = 3, Replanned = 2;

    /// <param name="problem">As given to <see cref="Risk"/>.</param>
    /// <param name="schedule">As given there.</param>
    /// <param name="options">As given there.</param>
    /// <param name="report">What came of it.</param>
    /// <param name="effort">For each remedy that needs another plan, in the planner's deterministic units.</param>
    /// <param name="stop">Looked at before each remedy.</param>
    /// <exception cref="OperationCanceledException">It was stopped: half of the remedies would not say which is best.</exception>
    public static Mitigations Of(
        Problem problem, Schedule schedule, RiskOptions options, RiskReport report, double effort = 0.5, CancellationToken stop = default)
    {
        var setting = SettingOf(problem, schedule, effort);
        var tried = Try(setting, options, Candidates(problem, schedule, options, report), stop);
        stop.ThrowIfCancellationRequested();
        var before = Trial.Of(setting, options);
        var screened = before.First(Screening(options).Runs);
        Attempt[] finalists = [.. tried
            .Where(one => one.Trial.CompareTo(screened) > 0).OrderByDescending(one => one.Trial).Take(Finalists)
            .Select(one => one with { Trial = Trial.Of(one.Changed, options) })
            .Where(one => one.Trial.CompareTo(before) > 0).OrderByDescending(one => one.Trial)];
        if (finalists.Length == 0) return new Mitigations([], null, tried.Count);
        var first = finalists[0];
        // Where nothing adds to the first, the second best is another way to the same.
        var second = finalists.Skip(1).Select(other => (Attempt: other, Both: Together(setting, [first.Remedy, other.Remedy], options)))
            .OrderByDescending(pair => pair.Both?.CompareTo(first.Trial) > 0 ? pair.Both : null).FirstOrDefault();
        Attempt[] best = second.Attempt is null ? [first] : [first, second.Attempt];
        return new Mitigations(
            [.. best.Select(one => Said(problem.Week, one.Remedy, one.Trial, before))], second.Both?.Launch, tried.Count);
    }

    /// <summary>Every remedy that is tried, with what few runs say of it.</summary>
    internal static IEnumerable<(Remedy, Trial)> Tried(
        Problem problem, Schedule schedule, RiskOptions options, RiskReport report, double effort) =>
        Try(SettingOf(problem, schedule, effort), options, Candidates(problem, schedule, options, report))
            .Select(one => (one.Remedy, one.Trial));

    private static Setting SettingOf(Problem problem, Schedule schedule, double effort) =>
        new(problem.Week, problem.Week, schedule, problem.Replan, new Limits { Effort = effort, Workers = 1 });

    private static RiskOptions Screening(RiskOptions options) =>
        options with { Runs = Math.Min(options.Runs, ScreeningRuns), Workers = 1 };

    private static List<Attempt> Try(Setting setting, RiskOptions options, IEnumerable<Remedy> candidates,
        CancellationToken stop = default)
    {
        Remedy[] remedies = [.. candidates.DistinctBy(remedy => remedy.Change)];
        var attempts = new Attempt?[remedies.Length];
        var few = new ParallelOptions { MaxDegreeOfParallelism = options.Workers, CancellationToken = stop };
        Parallel.For(0, remedies.Length, few, index =>
        {
            if (remedies[index].Apply(setting) is { } changed)
                attempts[index] = new Attempt(remedies[index], changed, Trial.Of(changed, Screening(options)));
        });
        return [.. attempts.OfType<Attempt>()];
    }

    private static IEnumerable<Remedy> Candidates(Problem problem, Schedule schedule, RiskOptions options, RiskReport report)
    {
        int[] strained = [.. report.Nights.Select(night => (Night: problem.NightOf(night.Night), Strain: 1 - night.InWindow.Share
                + PutOffFrom(problem, schedule, report, problem.NightOf(night.Night))))
            .Where(one => one.Strain > 0).OrderByDescending(one => one.Strain).Take(Strained).Select(one => one.Night)];
        int[] driving = [.. report.Tasks.Take(Driving).Select(task => problem.TaskOf(task.Task))];
        // In each strained night the task that its end waits for most.
        int[] holding = [.. strained.Select(night => report.Tasks.Where(task => IsIn(problem, schedule, task, night))
            .MaxBy(task => task.NightCriticality)).OfType<TaskRisk>().Select(task => problem.TaskOf(task.Task))];
        int[] tasks = [.. driving.Union(holding)];
        return
        [
            .. LongerNight.For(problem, strained),
            .. OneMore.For(problem, schedule, tasks),
            .. WithoutWant.For(problem, report.Tasks.Select(task => problem.TaskOf(task.Task))).Take(Strained),
            .. EarlierKit.For(problem, tasks).Take(Replanned),
            .. MoreTime.For(problem, options, tasks).Take(Replanned),
        ];
    }

    /// <summary>How often work of a night is put off: that of the task most often.</summary>
    private static double PutOffFrom(Problem problem, Schedule schedule, RiskReport report, int night) =>
        report.Tasks.Where(task => IsIn(problem, schedule, task, night)).Select(task => task.PutOff).DefaultIfEmpty().Max();

    private static bool IsIn(Problem problem, Schedule schedule, TaskRisk task, int night) => schedule.Work.Any(work =>
        work.Night == night && work.Stint is { } stint && problem.Stints[stint].Task.Id == task.Task);

    /// <summary>Those that need another plan come first: the others are made in it.</summary>
    private static Trial? Together(Setting setting, IEnumerable<Remedy> both, RiskOptions options)
    {
        Setting? changed = setting;
        foreach (var remedy in both.OrderByDescending(remedy => remedy.PlansAnew))
            changed = changed is null ? null : remedy.Apply(changed);
        return changed is null ? null : Trial.Of(changed, options);
    }

    private static Mitigation Said(Week week, Remedy remedy, Trial trial, Trial before)
    {
        var (gain, error) = trial.Over(before);
        return new Mitigation([remedy.Change], remedy.Sentence(week), trial.Launch, gain, error, trial.StintsPutOff, trial.NightsInWindow,
            remedy.PlansAnew);
    }

    private sealed record Attempt(Remedy Remedy, Setting Changed, Trial Trial);
}
