using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk;

/// <summary>
/// Looks at what drives a plan's risk, tries remedies for it in the same luck and names the one that does most for the launch,
/// and the one that adds most to that; where it is the same for the launch, for the stints that are put off and for the nights.
/// </summary>
public static class MitigationSearch
{
    /// <summary>So long somebody who asks for a risk may wait for this besides.</summary>
    public static readonly TimeSpan DefaultTime = TimeSpan.FromSeconds(2.5);

    private const int ScreeningRuns = 2000, FinalRuns = RiskOptions.DefaultRuns, MaxFinalists = 4;

    /// <summary>Of the time, how much may be gone when remedies are no longer tried, and when the best of them no more.</summary>
    private const double TrialTimeShare = 0.55, FinalTimeShare = 0.8;

    /// <param name="problem">As given to <see cref="RiskSimulation.Of"/>.</param>
    /// <param name="schedule">As given there.</param>
    /// <param name="options">As given there.</param>
    /// <param name="report">What came of it.</param>
    /// <param name="effort">For each remedy that needs another plan, in the planner's deterministic units.</param>
    /// <param name="time">
    /// What is not looked at by then is named; null: everything is, and the same options give the same answer.
    /// </param>
    /// <param name="stop">Obeyed within 200 ms.</param>
    /// <exception cref="OperationCanceledException">It was stopped: half of the remedies would not say which is best.</exception>
    public static MitigationAdvice Of(Problem problem, Schedule schedule, RiskOptions options, RiskReport report, double effort = 0.3,
        TimeSpan? time = null, CancellationToken stop = default)
    {
        var budget = new Budget(new SearchLimits { Time = time ?? TimeSpan.FromDays(1) }, stop);
        var final = options with { Runs = Math.Min(options.Runs, FinalRuns) };
        MitigationCandidate[] remedies = [.. MitigationProposals.For(problem, schedule, options, report)];
        using var late = CancellationTokenSource.CreateLinkedTokenSource(stop);
        late.CancelAfter(TimeSpan.FromSeconds(budget.Total * TrialTimeShare));
        var setting = CaseOf(problem, schedule, effort, late.Token);
        var before = SimulationSample.Of(setting, final, stop);
        var (tried, untried) = TryAll(setting, options, remedies, budget);
        var screened = before.FirstRuns(Screening(options).Runs);
        MitigationTrial[] finalists = [.. tried
            .Where(one => one.Sample.CompareTo(screened) > 0).OrderByDescending(one => one.Sample).Take(MaxFinalists)
            .TakeWhile((_, at) => at == 0 || budget.SpentShare < FinalTimeShare)
            .Select(one => one with { Sample = SimulationSample.Of(one.ChangedCase, final, stop) })
            .Where(one => one.Sample.CompareTo(before) > 0).OrderByDescending(one => one.Sample)];
        using var over = CancellationTokenSource.CreateLinkedTokenSource(stop);
        over.CancelAfter(TimeSpan.FromSeconds(Math.Max(0, budget.Remaining)));
        var best = ChooseBest(setting with { PlanningDeadline = over.Token }, finalists, final, budget);
        stop.ThrowIfCancellationRequested();
        return new MitigationAdvice([.. best.Attempts.Select(one => MitigationOf(problem.Week, one.Candidate, one.Sample, before))],
            best.Both?.Launch, tried.Count)
        {
            Untried = [.. untried.Select(remedy => new UntriedMitigation([remedy.Change], remedy.Sentence(problem.Week)))],
        };
    }

    /// <summary>Every remedy that is tried, with what few runs say of it.</summary>
    internal static IEnumerable<(MitigationCandidate, SimulationSample)> TrialResults(
        Problem problem, Schedule schedule, RiskOptions options, RiskReport report, double effort) =>
        TryAll(CaseOf(problem, schedule, effort, default), options, [.. MitigationProposals.For(problem, schedule, options, report)],
            new Budget(new SearchLimits { Time = TimeSpan.FromDays(1) }, default)).Tried.Select(one => (one.Candidate, one.Sample));

    private static MitigationCase CaseOf(Problem problem, Schedule schedule, double effort, CancellationToken planningDeadline) =>
        new(problem.Week, problem.Week, schedule, problem.Replan, new SearchLimits { Effort = effort, Workers = 1 }, planningDeadline);

    private static RiskOptions Screening(RiskOptions options) =>
        options with { Runs = Math.Min(options.Runs, ScreeningRuns), Workers = 1 };

    /// <returns>Neither has what cannot be done.</returns>
    private static (IReadOnlyList<MitigationTrial> Tried, IReadOnlyList<MitigationCandidate> Untried) TryAll(
        MitigationCase mitigationCase, RiskOptions options, MitigationCandidate[] candidates, Budget budget)
    {
        var (attempts, tooLate) = (new MitigationTrial?[candidates.Length], new bool[candidates.Length]);
        WorkerThreads.ForEach(candidates.Length, options.Workers, budget.Stop, mine =>
        {
            foreach (var index in mine)
                if (!IsLate() && candidates[index].Apply(mitigationCase) is { } changed)
                    attempts[index] = new MitigationTrial(candidates[index], changed, SimulationSample.Of(changed, Screening(options), budget.Stop));
                else tooLate[index] = IsLate();
        });
        return ([.. attempts.OfType<MitigationTrial>()], [.. candidates.Where((_, index) => tooLate[index])]);

        bool IsLate() => budget.SpentShare >= TrialTimeShare || mitigationCase.PlanningDeadline.IsCancellationRequested;
    }

    /// <summary>
    /// The first of them, and of the others that which adds most to it or, where none adds anything, the second best.
    /// </summary>
    private static (IReadOnlyList<MitigationTrial> Attempts, SimulationSample? Both) ChooseBest(
        MitigationCase mitigationCase, MitigationTrial[] finalists, RiskOptions options, Budget budget)
    {
        if (finalists is not [var first, .. var others]) return ([], null);
        var second = others
            .Select(other => (Attempt: other, Both: Combined(mitigationCase, [first.Candidate, other.Candidate], options, budget)))
            .OrderByDescending(pair => pair.Both?.CompareTo(first.Sample) > 0 ? pair.Both : null).FirstOrDefault();
        return (second.Attempt is null ? [first] : [first, second.Attempt], second.Both);
    }

    /// <summary>Those that need another plan come first: the others are made in it.</summary>
    private static SimulationSample? Combined(MitigationCase mitigationCase, IEnumerable<MitigationCandidate> both, RiskOptions options, Budget budget)
    {
        if (budget.Spent) return null;
        MitigationCase? changed = mitigationCase;
        foreach (var remedy in both.OrderByDescending(remedy => remedy.NeedsNewPlan))
            changed = changed is null ? null : remedy.Apply(changed);
        return changed is null ? null : SimulationSample.Of(changed, options, budget.Stop);
    }

    private static Mitigation MitigationOf(Week week, MitigationCandidate candidate, SimulationSample sample, SimulationSample baseline)
    {
        var (gain, error) = sample.GainOver(baseline);
        return new Mitigation([candidate.Change], candidate.Sentence(week), sample.Launch, gain, error,
            sample.StintsPutOff, sample.NightsInWindow,
            candidate.NeedsNewPlan);
    }

    private sealed record MitigationTrial(MitigationCandidate Candidate, MitigationCase ChangedCase, SimulationSample Sample);
}
