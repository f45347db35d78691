using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Re-plans of the fixed weeks after one disruption: the time to the first plan, its number of changes after 2 s and at the
/// end, and the bounds.
/// </summary>
internal static class ReplansBench
{
    private static readonly TimeSpan EarlyTime = TimeSpan.FromSeconds(2);

    /// <summary>The effort of the published plan, a deterministic measure, so that it is always the same plan.</summary>
    private const double EffortToPublish = 2;

    /// <param name="amount">Seconds of each re-plan, or units of effort.</param>
    /// <param name="only">A size, or a week and a word of the fact such as "medium-4 person"; empty: all.</param>
    /// <param name="byEffort">Effort is a deterministic measure, so a busy machine changes no value.</param>
    public static int Run(double amount, string only, bool byEffort)
    {
        var limits = byEffort ? new SearchLimits { Effort = amount, Workers = 1 }
            : new SearchLimits { Time = TimeSpan.FromSeconds(amount), Workers = 2 };
        WarmUp();
        var failed = 0;
        var (weekPart, factPart) = (only.Split(' ')[0], only.Split(' ').ElementAtOrDefault(1) ?? "");
        foreach (var (size, seed) in WeekGenerator.Fixed
            .Where(week => $"{week.Size.Name}-{week.Seed}".StartsWith(weekPart, StringComparison.Ordinal)))
        {
            var week = WeekGenerator.Make(size, seed);
            var published = Planner.Plan(week, new SearchLimits { Effort = EffortToPublish, Workers = 1 });
            foreach (var disruption in Disruptions(week, published)
                .Where(disruption => disruption.Name.Contains(factPart, StringComparison.Ordinal)))
                failed += Measure(disruption, week, published, limits) ? 0 : 1;
        }
        return failed == 0 ? 0 : 1;
    }

    private sealed record Disruption(string Name, WeekChange Change, LocalDateTime Now);

    /// <summary>
    /// A late kit before the first night, and an absence and a shortened night after the first was worked as planned.
    /// </summary>
    private static IEnumerable<Disruption> Disruptions(Week week, Plan published)
    {
        var kit = week.Kits.Where(kit => kit.Eta is not null)
            .MaxBy(kit => WorkBefore(published, week, kit, kit.Eta!.Value.PlusDays(2)))!;
        yield return new("kit two nights late", new KitEtaMoved(kit.Id, kit.Eta!.Value.PlusDays(2)),
            week.Nights[0].Opens.PlusHours(-10));
        var third = published.Nights.Single(night => night.Night == week.Nights[2].Id);
        // The second longest shift, because the longest is mostly that of the only keyholder.
        var absent = third.Shifts.OrderByDescending(shift => (shift.To.ToInstant() - shift.From.ToInstant()).TotalMinutes)
            .ThenBy(shift => shift.Person, StringComparer.Ordinal).ElementAt(1);
        yield return new("person absent", new Absence(absent.Person, third.Night), week.Nights[1].Opens.PlusHours(-8));
        yield return new("night shortened", new NightWindowMoved(third.Night, Closes: week.Nights[2].Closes.PlusMinutes(-45)),
            week.Nights[1].Opens.PlusHours(-8));
    }

    /// <summary>The number of published work items that need the kit and start before a time.</summary>
    private static int WorkBefore(Plan published, Week week, Kit kit, LocalDateTime time)
    {
        var needing = week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id)).Select(task => task.Id).ToHashSet();
        return published.Nights.SelectMany(night => night.Work)
            .Count(work => work.Task is { } task && needing.Contains(task) && work.From.LocalDateTime < time);
    }

    private static bool Measure(Disruption disruption, Week before, Plan published, SearchLimits limits)
    {
        var week = disruption.Change.Apply(before);
        var replan = new Replan(published, disruption.Now, AsPlanned(published, disruption.Now, before));
        SearchProgress? first = null, early = null, last = null;
        TimeSpan? provenAfter = null, processorTime = null;
        var startOfProcessorTime = Environment.CpuUsage.TotalTime;
        var steps = new List<string>();
        var plan = Planner.Plan(week, limits, replan, seen =>
        {
            first ??= seen;
            var step = $"{TextOf(seen, GoalId.Changes)}, shuffled {TextOf(seen, GoalId.Shuffled)}";
            if (steps.Count == 0 || !steps[^1].EndsWith(step, StringComparison.Ordinal))
                steps.Add($"{seen.Elapsed.TotalSeconds:F2} s: {step}");
            if (seen.Elapsed <= EarlyTime) early = seen;
            last = seen;
            if (!Proven(seen.Best)) return;
            provenAfter ??= seen.Elapsed;
            processorTime ??= Environment.CpuUsage.TotalTime - startOfProcessorTime;
        });
        var problem = Problem.Of(week, replan);
        var breachCount = plan.Nights.Count == 0 ? -1 : Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)).Count;
        var changes = plan.Nights.Count == 0 ? null : PlanChanges.Between(problem, published, plan);
        JsonLines.Print(new
        {
            week = week.Id,
            fact = disruption.Name,
            status = plan.Status.ToString(),
            broken = breachCount,
            firstPlanMilliseconds = first is null ? (double?)null : Math.Round(first.Elapsed.TotalMilliseconds, 1),
            firstChanges = TextOf(first, GoalId.Changes),
            firstLeftOut = TextOf(first, GoalId.LeftOut),
            at2s = TextOf(early, GoalId.Changes),
            leftOutAt2s = TextOf(early, GoalId.LeftOut),
            atEnd = TextOf(last, GoalId.Changes),
            leftOutAtEnd = TextOf(last, GoalId.LeftOut),
            shuffledAtEnd = TextOf(last, GoalId.Shuffled),
            provenAfterSeconds = provenAfter is { } after ? Math.Round(after.TotalSeconds, 2) : (double?)null,
            processorSecondsUntilProven = processorTime is { } used ? Math.Round(used.TotalSeconds, 2) : (double?)null,
            steps,
            workElsewhere = changes?.Work.Count,
            shiftsChanged = changes?.Shifts.Count,
            plan.Goals,
        });
        return breachCount == 0;
    }

    private static string? TextOf(SearchProgress? progress, GoalId goal) =>
        progress?.Best.Goals.FirstOrDefault(value => value.Goal == goal) is { } value
        ? $"{value.Value} (>= {value.Bound})" : null;

    private static bool Proven(Plan plan) =>
        plan.Goals.Where(goal => goal.Goal is GoalId.LeftOut or GoalId.Changes).All(goal => goal.Bound >= goal.Value);

    private static ProgressReport[] AsPlanned(Plan plan, LocalDateTime now, Week week) =>
    [
        .. from night in plan.Nights
           where week.Nights.Single(window => window.Id == night.Night).Closes <= now
           from work in night.Work
           select new ProgressReport
           {
               Task = work.Task, Stint = work.Stint ?? 1, CleanDown = work.CleanDown,
               Night = work.Task is null ? night.Night : null,
               State = WorkState.Done, From = work.From, To = work.To,
           },
    ];

    private static void WarmUp()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 1);
        var published = Planner.Plan(week, new SearchLimits { Time = TimeSpan.FromSeconds(1) });
        Planner.Plan(week, new SearchLimits { Time = TimeSpan.FromSeconds(1) },
            new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
    }
}
