using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Remedies;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk;

/// <summary>
/// Looks at what drives a plan's risk, tries remedies for it in the same luck and names the one that does most for the launch,
/// and the one that adds most to that; where it is the same for the launch, for the stints that are put off and for the nights.
/// </summary>
public static class WhatHelps
{
    /// <summary>So long somebody who asks for a risk may wait for this besides.</summary>
    public static readonly TimeSpan Moment = TimeSpan.FromSeconds(2.5);

    private const int ScreeningRuns = 2000, FinalRuns = RiskOptions.DefaultRuns, Finalists = 4;

    /// <summary>Of the time, how much may be gone when remedies are no longer tried, and when the best of them no more.</summary>
    private const double ToTry = 0.55, ToChoose = 0.8;

    /// <param name="problem">As given to <see cref="RiskAnalysis.Of"/>.</param>
    /// <param name="schedule">As given there.</param>
    /// <param name="options">As given there.</param>
    /// <param name="report">What came of it.</param>
    /// <param name="effort">For each remedy that needs another plan, in the planner's deterministic units.</param>
    /// <param name="time">
    /// What is not looked at by then is named; null: everything is, and the same options give the same answer.
    /// </param>
    /// <param name="stop">Obeyed within 200 ms.</param>
    /// <exception cref="OperationCanceledException">It was stopped: half of the remedies would not say which is best.</exception>
    public static Mitigations Of(Problem problem, Schedule schedule, RiskOptions options, RiskReport report, double effort = 0.3,
        TimeSpan? time = null, CancellationToken stop = default)
    {
        var budget = new Budget(new Limits { Time = time ?? TimeSpan.FromDays(1) }, stop);
        var final = options with { Runs = Math.Min(options.Runs, FinalRuns) };
        Remedy[] remedies = [.. Proposing.For(problem, schedule, options, report)];
        using var late = CancellationTokenSource.CreateLinkedTokenSource(stop);
        late.CancelAfter(TimeSpan.FromSeconds(budget.All * ToTry));
        var setting = SettingOf(problem, schedule, effort, late.Token);
        var before = Sample.Of(setting, final, stop);
        var (tried, untried) = Try(setting, options, remedies, budget);
        var screened = before.First(Screening(options).Runs);
        Attempt[] finalists = [.. tried
            .Where(one => one.Sample.CompareTo(screened) > 0).OrderByDescending(one => one.Sample).Take(Finalists)
            .TakeWhile((_, at) => at == 0 || budget.Share < ToChoose)
            .Select(one => one with { Sample = Sample.Of(one.Changed, final, stop) })
            .Where(one => one.Sample.CompareTo(before) > 0).OrderByDescending(one => one.Sample)];
        using var over = CancellationTokenSource.CreateLinkedTokenSource(stop);
        over.CancelAfter(TimeSpan.FromSeconds(Math.Max(0, budget.Left)));
        var best = Best(setting with { Late = over.Token }, finalists, final, budget);
        stop.ThrowIfCancellationRequested();
        return new Mitigations([.. best.Attempts.Select(one => Said(problem.Week, one.Remedy, one.Sample, before))],
            best.Both?.Launch, tried.Count)
        {
            Untried = [.. untried.Select(remedy => new Proposal([remedy.Change], remedy.Sentence(problem.Week)))],
        };
    }

    /// <summary>Every remedy that is tried, with what few runs say of it.</summary>
    internal static IEnumerable<(Remedy, Sample)> Tried(
        Problem problem, Schedule schedule, RiskOptions options, RiskReport report, double effort) =>
        Try(SettingOf(problem, schedule, effort, default), options, [.. Proposing.For(problem, schedule, options, report)],
            new Budget(new Limits { Time = TimeSpan.FromDays(1) }, default)).Tried.Select(one => (one.Remedy, one.Sample));

    private static Setting SettingOf(Problem problem, Schedule schedule, double effort, CancellationToken late) =>
        new(problem.Week, problem.Week, schedule, problem.Replan, new Limits { Effort = effort, Workers = 1 }, late);

    private static RiskOptions Screening(RiskOptions options) =>
        options with { Runs = Math.Min(options.Runs, ScreeningRuns), Workers = 1 };

    /// <returns>Neither has what cannot be done.</returns>
    private static (IReadOnlyList<Attempt> Tried, IReadOnlyList<Remedy> Untried) Try(
        Setting setting, RiskOptions options, Remedy[] remedies, Budget budget)
    {
        var (attempts, tooLate) = (new Attempt?[remedies.Length], new bool[remedies.Length]);
        Threads.Share(remedies.Length, options.Workers, budget.Stop, mine =>
        {
            foreach (var index in mine)
                if (!IsLate() && remedies[index].Apply(setting) is { } changed)
                    attempts[index] = new Attempt(remedies[index], changed, Sample.Of(changed, Screening(options), budget.Stop));
                else tooLate[index] = IsLate();
        });
        return ([.. attempts.OfType<Attempt>()], [.. remedies.Where((_, index) => tooLate[index])]);

        bool IsLate() => budget.Share >= ToTry || setting.Late.IsCancellationRequested;
    }

    /// <summary>
    /// The first of them, and of the others that which adds most to it or, where none adds anything, the second best.
    /// </summary>
    private static (IReadOnlyList<Attempt> Attempts, Sample? Both) Best(
        Setting setting, Attempt[] finalists, RiskOptions options, Budget budget)
    {
        if (finalists is not [var first, .. var others]) return ([], null);
        var second = others
            .Select(other => (Attempt: other, Both: Together(setting, [first.Remedy, other.Remedy], options, budget)))
            .OrderByDescending(pair => pair.Both?.CompareTo(first.Sample) > 0 ? pair.Both : null).FirstOrDefault();
        return (second.Attempt is null ? [first] : [first, second.Attempt], second.Both);
    }

    /// <summary>Those that need another plan come first: the others are made in it.</summary>
    private static Sample? Together(Setting setting, IEnumerable<Remedy> both, RiskOptions options, Budget budget)
    {
        if (budget.Spent) return null;
        Setting? changed = setting;
        foreach (var remedy in both.OrderByDescending(remedy => remedy.PlansAnew))
            changed = changed is null ? null : remedy.Apply(changed);
        return changed is null ? null : Sample.Of(changed, options, budget.Stop);
    }

    private static Mitigation Said(Week week, Remedy remedy, Sample sample, Sample before)
    {
        var (gain, error) = sample.Over(before);
        return new Mitigation([remedy.Change], remedy.Sentence(week), sample.Launch, gain, error,
            sample.StintsPutOff, sample.NightsInWindow,
            remedy.PlansAnew);
    }

    private sealed record Attempt(Remedy Remedy, Setting Changed, Sample Sample);
}
