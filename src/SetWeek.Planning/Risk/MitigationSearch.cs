using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk;

/// <summary>
/// Finds changes to a week that make its plan more likely to hold. It proposes candidates for what drives the risk and simulates
/// each with the same random numbers. It returns the one that helps the launch most, and the one that adds most to it. Ties are
/// broken by fewer stints put off, then by more nights that end in time.
/// </summary>
public static class MitigationSearch
{
    /// <summary>How long an interactive caller waits for mitigations after the risk report.</summary>
    public static readonly TimeSpan DefaultTime = TimeSpan.FromSeconds(2.5);

    private const int ScreeningRuns = 2000, FinalRuns = RiskOptions.DefaultRuns, MaxFinalists = 4;

    /// <summary>Shares of the time after which no further candidate, and no further finalist, is simulated.</summary>
    private const double TrialTimeShare = 0.55, FinalTimeShare = 0.8;

    /// <summary>Finds the best mitigations of a simulated plan.</summary>
    /// <param name="problem">The problem given to <see cref="RiskSimulation"/>.</param>
    /// <param name="schedule">The schedule given to it.</param>
    /// <param name="options">The options given to it.</param>
    /// <param name="report">The report that it returned.</param>
    /// <param name="effort">Deterministic effort of the planner for each candidate that needs a new plan.</param>
    /// <param name="time">
    /// Candidates not simulated by then are returned as untried; null: no time limit, and equal options give equal results.
    /// </param>
    /// <param name="stop">Ends the search within 200 ms.</param>
    /// <exception cref="OperationCanceledException">The search was stopped; there is no partial advice.</exception>
    public static MitigationAdvice Of(Problem problem, Schedule schedule, RiskOptions options, RiskReport report,
        double effort = 0.3, TimeSpan? time = null, CancellationToken stop = default)
    {
        var budget = new Budget(new SearchLimits { Time = time ?? TimeSpan.FromDays(1) }, stop);
        var final = options with { Runs = Math.Min(options.Runs, FinalRuns) };
        MitigationCandidate[] candidates = [.. MitigationProposals.For(problem, schedule, options, report)];
        using var trialDeadline = CancellationTokenSource.CreateLinkedTokenSource(stop);
        trialDeadline.CancelAfter(TimeSpan.FromSeconds(budget.Total * TrialTimeShare));
        var unchanged = new MitigationCase(problem.Week, problem.Week, schedule, problem.Replan,
            new SearchLimits { Effort = effort, Workers = 1 }, trialDeadline.Token);
        var baseline = SimulationSample.Of(unchanged, final, stop);
        var (tried, untried) = TryAll(unchanged, options, candidates, budget);
        var screenedBaseline = baseline.FirstRuns(Screening(options).Runs);
        MitigationTrial[] finalists = [.. tried
            .Where(trial => trial.Sample.CompareTo(screenedBaseline) > 0)
            .OrderByDescending(trial => trial.Sample).Take(MaxFinalists)
            .TakeWhile((_, index) => index == 0 || budget.SpentShare < FinalTimeShare)
            .Select(trial => trial with { Sample = SimulationSample.Of(trial.ChangedCase, final, stop) })
            .Where(trial => trial.Sample.CompareTo(baseline) > 0).OrderByDescending(trial => trial.Sample)];
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(stop);
        deadline.CancelAfter(TimeSpan.FromSeconds(Math.Max(0, budget.Remaining)));
        var best = ChooseBest(unchanged with { PlanningDeadline = deadline.Token }, finalists, final, budget);
        stop.ThrowIfCancellationRequested();
        return new MitigationAdvice(
            [.. best.Trials.Select(trial => MitigationOf(problem.Week, trial.Candidate, trial.Sample, baseline))],
            best.Both?.Launch, tried.Count)
        {
            Untried = [.. untried.Select(candidate =>
                new UntriedMitigation([candidate.Change], candidate.Sentence(problem.Week)))],
        };
    }

    private static RiskOptions Screening(RiskOptions options) =>
        options with { Runs = Math.Min(options.Runs, ScreeningRuns), Workers = 1 };

    /// <summary>Simulates each candidate with a few runs. One that cannot be applied is neither tried nor untried.</summary>
    private static (IReadOnlyList<MitigationTrial> Tried, IReadOnlyList<MitigationCandidate> Untried) TryAll(
        MitigationCase mitigationCase, RiskOptions options, MitigationCandidate[] candidates, Budget budget)
    {
        var (trials, tooLate) = (new MitigationTrial?[candidates.Length], new bool[candidates.Length]);
        WorkerThreads.ForEach(candidates.Length, options.Workers, budget.Stop, mine =>
        {
            foreach (var index in mine)
                if (!IsLate() && candidates[index].Apply(mitigationCase) is { } changed)
                    trials[index] = new MitigationTrial(candidates[index], changed,
                        SimulationSample.Of(changed, Screening(options), budget.Stop));
                else tooLate[index] = IsLate();
        });
        return ([.. trials.OfType<MitigationTrial>()], [.. candidates.Where((_, index) => tooLate[index])]);

        bool IsLate() => budget.SpentShare >= TrialTimeShare || mitigationCase.PlanningDeadline.IsCancellationRequested;
    }

    /// <summary>
    /// Chooses the best finalist, and of the others the one that adds most to it. If none adds anything, the second is the
    /// second best finalist.
    /// </summary>
    private static (IReadOnlyList<MitigationTrial> Trials, SimulationSample? Both) ChooseBest(
        MitigationCase mitigationCase, MitigationTrial[] finalists, RiskOptions options, Budget budget)
    {
        if (finalists is not [var first, .. var others]) return ([], null);
        var second = others
            .Select(other => (Trial: other, Both: Combined(mitigationCase, [first.Candidate, other.Candidate], options, budget)))
            .OrderByDescending(pair => pair.Both?.CompareTo(first.Sample) > 0 ? pair.Both : null).FirstOrDefault();
        return (second.Trial is null ? [first] : [first, second.Trial], second.Both);
    }

    /// <summary>
    /// Simulates candidates together; null if time ran out or one cannot be applied. Those that need a new plan are applied
    /// first, so that the others change the new plan.
    /// </summary>
    private static SimulationSample? Combined(
        MitigationCase mitigationCase, IEnumerable<MitigationCandidate> candidates, RiskOptions options, Budget budget)
    {
        if (budget.Spent) return null;
        MitigationCase? changed = mitigationCase;
        foreach (var candidate in candidates.OrderByDescending(candidate => candidate.NeedsNewPlan))
            changed = changed is null ? null : candidate.Apply(changed);
        return changed is null ? null : SimulationSample.Of(changed, options, budget.Stop);
    }

    private static Mitigation MitigationOf(
        Week week, MitigationCandidate candidate, SimulationSample sample, SimulationSample baseline)
    {
        var (gain, error) = sample.GainOver(baseline);
        return new Mitigation([candidate.Change], candidate.Sentence(week), sample.Launch, gain, error,
            sample.StintsPutOff, sample.NightsInWindow, candidate.NeedsNewPlan);
    }

    private sealed record MitigationTrial(MitigationCandidate Candidate, MitigationCase ChangedCase, SimulationSample Sample);
}
