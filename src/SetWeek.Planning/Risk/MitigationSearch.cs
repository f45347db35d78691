using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk;

/// <summary>
/// Finds changes to a week with which a new plan holds more often. It screens candidates by simulating them in the plan as it
/// is. The best are applied, and the week is planned again, each time with the same effort as for the week as it is. What the new
/// plans reach on fresh runs is reported.
/// </summary>
public sealed partial class MitigationSearch
{
    /// <summary>The limit of a caller who gives none.</summary>
    public static readonly SearchLimits DefaultLimits = new() { Time = TimeSpan.FromSeconds(6) };

    private const int ScreeningRuns = 2000, MaxPlanned = 3;

    /// <summary>
    /// Plans searched: two of the week as it is, those of three changes, and that of two changes together. Of moves for a chain
    /// there are at most five, and the two of the week as it is serve both.
    /// </summary>
    private const int PlansForChanges = 6, PlansForMoves = 5, PlansAsItIs = 2;

    /// <summary>Share of an effort, and of the time of one thread, that the new plans get together.</summary>
    private const double EffortForPlans = 0.95, TimeForPlans = 0.7;

    /// <summary>Share of the time after which no further candidate is screened, and no further plan is begun.</summary>
    private const double ScreeningUntil = 0.5, PlanningUntil = 0.85;

    private readonly Problem problem;
    private readonly Schedule schedule;
    private readonly RiskOptions options;
    private readonly Budget budget;
    private readonly MitigationCase unchanged;
    private int plans = PlansForChanges;

    /// <summary>Told of each mitigation as soon as it is measured; several threads call it.</summary>
    private Action<TriedMitigation>? measured;

    /// <summary>What is ready when the time has run out.</summary>
    private MitigationAdvice? ready;

    private MitigationSearch(Problem problem, Schedule schedule, RiskOptions options, Budget budget)
    {
        (this.problem, this.schedule, this.options, this.budget) = (problem, schedule, options, budget);
        unchanged = MitigationCase.Of(problem, schedule, options.DefaultSpread);
    }

    /// <summary>Finds the best mitigations of a simulated plan.</summary>
    /// <param name="problem">The problem given to <see cref="RiskSimulation"/>.</param>
    /// <param name="schedule">The schedule given to it.</param>
    /// <param name="options">The options given to it.</param>
    /// <param name="report">The report that it returned.</param>
    /// <param name="limits">
    /// Limits of all new plans together. Candidates not tried in the time are returned as untried. With an effort, equal
    /// arguments give equal results.
    /// </param>
    /// <param name="stop">Ends the search within 200 ms.</param>
    /// <param name="most">
    /// The most time that the search may take, also where it is limited by an effort or the machine is busy. After it, the advice
    /// is what is ready by then, and the rest is untried. Null: no such limit.
    /// </param>
    /// <param name="measured">Told of each mitigation as soon as it is measured, from any thread; null: nobody is told.</param>
    /// <exception cref="OperationCanceledException">The search was stopped; there is no partial advice.</exception>
    public static MitigationAdvice Of(Problem problem, Schedule schedule, RiskOptions options, RiskReport report,
        SearchLimits limits, CancellationToken stop = default, TimeSpan? most = null,
        Action<TriedMitigation>? measured = null)
    {
        using var late = new CancellationTokenSource(most ?? Timeout.InfiniteTimeSpan, limits.Clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stop, late.Token);
        var search = new MitigationSearch(problem, schedule, options, new Budget(limits, either.Token))
            { measured = measured };
        try
        {
            var advice = search.Find(report);
            stop.ThrowIfCancellationRequested();
            return late.IsCancellationRequested ? search.ready ?? advice : advice;
        }
        catch (OperationCanceledException) when (!stop.IsCancellationRequested)
        {
            return search.ready ?? search.Unfinished(new MitigationAdvice([], null, 0), report);
        }
    }

    /// <summary>The advice as far as it goes, with every candidate that is not in it as untried.</summary>
    private MitigationAdvice Unfinished(MitigationAdvice soFar, RiskReport report) => soFar with
    {
        TargetPercent = unchanged.Week.Hold.Chance,
        Untried =
        [
            .. MitigationProposals.For(problem, schedule, report).Select(Untried)
                .Where(candidate => soFar.Others.All(tried => tried.Sentence != candidate.Sentence)),
        ],
    };

    private MitigationAdvice Find(RiskReport report)
    {
        var target = unchanged.Week.Hold.Chance;
        var chance = options.DefaultSpread is null ? report.Hold : HoldChance.Of(unchanged.Problem, schedule);
        if (chance.IsLeftHalfSecured()) plans += PlansForMoves;
        var reached = Reaches(chance, target);
        if (reached && !chance.IsLeftHalfSecured())
            return new MitigationAdvice([], null, 0) { TargetPercent = target, AlreadyReached = true };
        var asItIs = budget.Spent ? null : PlanAsItIs();
        var none = new MitigationAdvice([], null, 0)
        {
            TargetPercent = target, AlreadyReached = reached, Replanned = asItIs?.AsResult(),
            Securing = FindSecuring(chance, asItIs),
        };
        ready = reached ? none : Unfinished(none, report);
        return reached || (asItIs is not null && Reaches(asItIs.Chance, target)) ? none : Try(none, asItIs, report);
    }

    /// <summary>Tries changes to the week, to hold more often than a new plan of the week as it is.</summary>
    private MitigationAdvice Try(MitigationAdvice none, MeasuredPlan? asItIs, RiskReport report)
    {
        MitigationCandidate[] candidates = [.. MitigationProposals.For(problem, schedule, report)];
        if (asItIs is null) return none with { Untried = [.. candidates.Select(Untried)] };
        var (screened, notScreened) = Screen(candidates);
        var baseline = SimulationSample.Of(unchanged.Problem, schedule, Screening, budget.Stop);
        MitigationCandidate[] better = [.. screened.Where(trial => trial.Sample.CompareTo(baseline) > 0)
            .OrderByDescending(trial => trial.Sample).Select(trial => trial.Candidate)];
        ready = Unfinished(
            none with { Tried = screened.Count, Others = [.. screened.Select(trial => Seen(trial, baseline))] }, report);
        MitigationCandidate[] onlyInNewPlan = [.. candidates.Where(candidate => !candidate.ChangesPlan)];
        MitigationCandidate[] finalists =
            [.. better.Take(MaxPlanned - Math.Min(1, onlyInNewPlan.Length)), .. onlyInNewPlan.Take(1)];
        foreach (var trial in screened) measured?.Invoke(Seen(trial, baseline));
        var planned = PlanAgain([.. finalists.Select(candidate => candidate.Apply(unchanged))],
            found: (index, plan) => measured?.Invoke(PlannedAnew(finalists[index], plan, asItIs)));

        var results = finalists.Zip(planned).Where(pair => pair.Second is not null)
            .Select(pair => (Candidate: pair.First, Plan: pair.Second!)).ToArray();
        var best = results.Where(result => result.Plan.IsSurerThan(asItIs, result.Candidate.LeftOutValue))
            .OrderByDescending(result => result.Plan.Chance.Holds.Held).ThenBy(result => result.Plan.Cost).Take(2).ToArray();
        var withBoth = best.Length < 2 ? null
            : PlanAgain([best[1].Candidate.Apply(best[0].Candidate.Apply(unchanged) with
            {
                Schedule = best[0].Plan.Schedule,
            })])[0];
        var asItIsSample = best.Length == 0 ? null : Sample(asItIs);
        return none with
        {
            Best = [.. best.Select(result => MitigationOf(result.Candidate, result.Plan, asItIsSample!))],
            Both = withBoth is null ? null : Sample(withBoth).Launch,
            Tried = screened.Count + results.Count(result => !result.Candidate.ChangesPlan),
            WithBoth = withBoth?.AsResult(),
            Others =
            [
                .. results.Where(result => !best.Contains(result))
                    .Select(result => PlannedAnew(result.Candidate, result.Plan, asItIs)),
                .. screened.Where(trial => !finalists.Contains(trial.Candidate)).Select(trial => Seen(trial, baseline)),
            ],
            Untried =
            [
                .. finalists.Zip(planned).Where(pair => pair.Second is null).Select(pair => pair.First)
                    .Concat(onlyInNewPlan.Skip(1)).Concat(notScreened).Select(Untried),
            ],
        };
    }

    /// <summary>What a change gives in the plan as it is.</summary>
    private TriedMitigation Seen(ScreenedCandidate trial, SimulationSample baseline) => new([trial.Candidate.Change],
        trial.Candidate.Sentence(problem.Week), trial.Sample.Holds, baseline.Holds, false, null);

    /// <summary>What a change gives in a new plan.</summary>
    private TriedMitigation PlannedAnew(MitigationCandidate candidate, MeasuredPlan plan, MeasuredPlan asItIs) =>
        new([candidate.Change], candidate.Sentence(problem.Week), plan.Chance.Holds, asItIs.Chance.Holds, true, plan.Cost);

    private static bool Reaches(HoldChance chance, int percent) => chance.Holds.Share * 100 >= percent;

    private RiskOptions Screening => options with
    {
        Runs = Math.Min(options.Runs, ScreeningRuns), Workers = 1, GraceMinutes = unchanged.Week.Hold.GraceMinutes,
    };

    private SimulationSample Sample(MeasuredPlan plan) => SimulationSample.Of(plan.Problem, plan.Schedule, options, budget.Stop);

    /// <summary>Simulates each candidate that changes the plan as it is, with a few runs.</summary>
    private (IReadOnlyList<ScreenedCandidate> Screened, IReadOnlyList<MitigationCandidate> TooLate) Screen(
        MitigationCandidate[] candidates)
    {
        MitigationCandidate[] changing = [.. candidates.Where(candidate => candidate.ChangesPlan)];
        var trials = new ScreenedCandidate?[changing.Length];
        WorkerThreads.ForEach(changing.Length, options.Workers, budget.Stop, mine =>
        {
            foreach (var index in mine)
                if (budget.Deterministic || budget.SpentShare < ScreeningUntil)
                {
                    var changed = changing[index].Apply(unchanged);
                    trials[index] = new ScreenedCandidate(changing[index],
                        SimulationSample.Of(changed.Problem, changed.Schedule, Screening, budget.Stop));
                }
        });
        return ([.. trials.OfType<ScreenedCandidate>()], [.. changing.Where((_, index) => trials[index] is null)]);
    }

    /// <summary>
    /// The better of two plans of the week as it is, with different seeds. One search may miss by chance what another reaches,
    /// and then a change would seem to help that does not.
    /// </summary>
    private MeasuredPlan? PlanAsItIs() => PlanAgain([unchanged, unchanged], differentSeeds: true).OfType<MeasuredPlan>()
        .OrderBy(plan => plan.LeftOut).ThenByDescending(plan => plan.Chance.Holds.Held).FirstOrDefault();

    /// <summary>
    /// Plans each week again with the same share of the limits. The searches run beside each other, each on one thread. Null
    /// where no plan is found, or no time is left to begin. Each plan is told as soon as it is found, with the index of its case.
    /// </summary>
    private MeasuredPlan?[] PlanAgain(
        MitigationCase[] cases, bool differentSeeds = false, Action<int, MeasuredPlan>? found = null)
    {
        var newPlans = new MeasuredPlan?[cases.Length];
        var used = new double[cases.Length];
        // In time, the searches of two threads run beside each other; an effort is that of all searches together.
        var share = budget.Deterministic ? EffortForPlans / plans : TimeForPlans * Math.Min(2, options.Workers) / plans;
        WorkerThreads.ForEach(cases.Length, options.Workers, budget.Stop, mine =>
        {
            foreach (var index in mine)
            {
                if (!budget.Deterministic && budget.SpentShare >= PlanningUntil) continue;
                var part = budget.CreateIndependent(budget.Total * share, budget.Stop, differentSeeds ? index : 0);
                newPlans[index] = MeasuredPlan.Search(cases[index], part);
                used[index] = part.Used;
                if (newPlans[index] is { } plan) found?.Invoke(index, plan);
            }
        });
        budget.Charge(used.Sum());
        return newPlans;
    }

    private Mitigation MitigationOf(MitigationCandidate candidate, MeasuredPlan plan, SimulationSample asItIs)
    {
        var sample = Sample(plan);
        var (gain, error) = sample.GainOver(asItIs);
        return new Mitigation([candidate.Change], candidate.Sentence(problem.Week), sample.Launch, gain, error,
            sample.StintsPutOff, sample.NightsInWindow, PlannedAnew: true, plan.AsResult());
    }

    private UntriedMitigation Untried(MitigationCandidate candidate) =>
        new([candidate.Change], candidate.Sentence(problem.Week));

    private sealed record ScreenedCandidate(MitigationCandidate Candidate, SimulationSample Sample);
}
