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
/// The fixed weeks, published and then put out by a fact: how soon a repaired plan stands, how many changes it makes after 2 s
/// and after the seconds given, and what is proven of that. A case ends when nothing is left to prove of leftOut and changes.
/// </summary>
internal static class ReplansBench
{
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(2);

    /// <summary>Deterministic, so that the published plans are always the same.</summary>
    private const double EffortToPublish = 2;

    public static int Run(TimeSpan time, string only)
    {
        Warm();
        var missed = 0;
        foreach (var (size, seed) in WeekGenerator.Fixed.Where(week => only is "" || week.Size.Name == only))
        {
            var week = WeekGenerator.Make(size, seed);
            var published = Planner.Plan(week, new SearchLimits { Effort = EffortToPublish, Workers = 1 });
            foreach (var fact in Disruptions(week, published)) missed += Measure(fact, week, published, time) ? 0 : 1;
        }
        return missed == 0 ? 0 : 1;
    }

    private sealed record Disruption(string Name, WeekChange Change, LocalDateTime Now);

    /// <summary>The afternoon before the second night: the first was worked as planned.</summary>
    private static IEnumerable<Disruption> Disruptions(Week week, Plan published)
    {
        var kit = week.Kits.Where(kit => kit.Eta is not null)
            .MaxBy(kit => WorkBefore(published, week, kit, kit.Eta!.Value.PlusDays(2)))!;
        yield return new("kit two nights late", new KitEtaMoved(kit.Id, kit.Eta!.Value.PlusDays(2)),
            week.Nights[0].Opens.PlusHours(-10));
        var third = published.Nights.Single(night => night.Night == week.Nights[2].Id);
        // Not the longest shift: mostly that is the only keyholder's.
        var absent = third.Shifts.OrderByDescending(shift => (shift.To.ToInstant() - shift.From.ToInstant()).TotalMinutes)
            .ThenBy(shift => shift.Person, StringComparer.Ordinal).ElementAt(1);
        yield return new("person absent", new Absence(absent.Person, third.Night), week.Nights[1].Opens.PlusHours(-8));
        yield return new("night shortened", new NightWindowMoved(third.Night, Closes: week.Nights[2].Closes.PlusMinutes(-45)),
            week.Nights[1].Opens.PlusHours(-8));
    }

    /// <summary>Pieces of work that need the kit and are published to start before a time.</summary>
    private static int WorkBefore(Plan published, Week week, Kit kit, LocalDateTime time)
    {
        var needing = week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id)).Select(task => task.Id).ToHashSet();
        return published.Nights.SelectMany(night => night.Work)
            .Count(work => work.Task is { } task && needing.Contains(task) && work.From.LocalDateTime < time);
    }

    private static bool Measure(Disruption disruption, Week before, Plan published, TimeSpan time)
    {
        var week = disruption.Change.Apply(before);
        var replan = new Replan(published, disruption.Now, AsPlanned(published, disruption.Now, before));
        using var proven = new CancellationTokenSource();
        SearchProgress? first = null, soon = null, last = null;
        TimeSpan? provenAfter = null;
        var plan = Planner.Plan(week, new SearchLimits { Time = time, Workers = 2 }, replan, seen =>
        {
            first ??= seen;
            if (seen.Elapsed <= Soon) soon = seen;
            last = seen;
            if (!Proven(seen.Best)) return;
            provenAfter ??= seen.Elapsed;
            proven.Cancel();
        }, proven.Token);
        var problem = Problem.Of(week, replan);
        var broken = plan.Nights.Count == 0 ? -1 : Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)).Count;
        var others = plan.Nights.Count == 0 ? null : PlanChanges.Between(problem, published, plan);
        JsonLines.Print(new
        {
            week = week.Id,
            fact = disruption.Name,
            status = plan.Status.ToString(),
            broken,
            firstPlanMilliseconds = first is null ? (double?)null : Math.Round(first.Elapsed.TotalMilliseconds, 1),
            firstChanges = Of(first, GoalId.Changes),
            firstLeftOut = Of(first, GoalId.LeftOut),
            at2s = Of(soon, GoalId.Changes),
            leftOutAt2s = Of(soon, GoalId.LeftOut),
            atEnd = Of(last, GoalId.Changes),
            leftOutAtEnd = Of(last, GoalId.LeftOut),
            provenAfterSeconds = provenAfter is { } after ? Math.Round(after.TotalSeconds, 2) : (double?)null,
            workElsewhere = others?.Work.Count,
            shiftsChanged = others?.Shifts.Count,
            plan.Goals,
        });
        return broken == 0;
    }

    private static string? Of(SearchProgress? seen, GoalId goal) =>
        seen?.Best.Goals.FirstOrDefault(value => value.Goal == goal) is { } value
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

    private static void Warm()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 1);
        var published = Planner.Plan(week, new SearchLimits { Time = TimeSpan.FromSeconds(1) });
        Planner.Plan(week, new SearchLimits { Time = TimeSpan.FromSeconds(1) },
            new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
    }
}
