using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// Re-plans of random weeks from a seed. A plan is published, and the current time lies within it. Some progress reports are
/// late, early, blocked, reopened or missing, at times off the grid, and some kits are late.
/// </summary>
internal static class RandomReplans
{
    private static readonly GoalId[] Goals = [GoalId.Changes, GoalId.Cost, GoalId.Finish, GoalId.Nights, GoalId.Shifts,
        GoalId.Uneven, GoalId.Reserve, GoalId.LeftOut, GoalId.Bare, GoalId.Handovers, GoalId.Shuffled];

    /// <summary>Null if the week has no plan to publish or if the reports are invalid.</summary>
    public static Problem? Make(int seed, bool tiny)
    {
        var random = new Random(seed * 31 + 7);
        var week = RandomWeeks.Make(seed, tiny);
        var problem = Problem.Of(week);
        if (CpOptimum.Plan(problem) is not { Work.Count: > 0 } plan) return null;
        var now = random.Next(0, plan.Work.Max(work => work.To) + 30);
        now -= random.Next(2) == 0 ? now % 30 : 0;
        var order = Goals.ToArray();
        random.Shuffle(order);
        if (random.Next(2) == 0 && week.Kits is [{ Eta: { } eta } kit])
            week = week with { Kits = [kit with { Eta = eta.PlusMinutes(90) }] };
        week = week with
        {
            ReplanGoals = [.. order.Take(2).Select(goal => new GoalChoice(goal))],
            Rules = week.Rules with { NoticeMinutes = random.Next(2) == 0 ? 300 : null },
        };
        var published = new Plan { Week = week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(problem, plan) };
        var progress = Reports(problem, plan, now, random);
        var local = problem.Grid.TimeOf(now).LocalDateTime;
        return ReplanFile.Check(week, new Replan(published, local, progress)).TryPickT0(out var replan, out _)
            ? Problem.Of(week, replan) : null;
    }

    private static List<ProgressReport> Reports(Problem problem, Schedule plan, int now, Random random)
    {
        var reports = new List<ProgressReport>();
        foreach (var work in plan.Work.Where(work => work.From < now))
        {
            var from = Math.Min(work.From + (random.Next(3) == 0 ? random.Next(-7, 8) : 0), now - 1);
            var to = work.To + (random.Next(3) == 0 ? random.Next(-7, 20) : 0);
            var report = new ProgressReport { State = WorkState.Done, From = problem.Grid.TimeOf(from) };
            if (work.Stint is { } index)
                report = report with { Task = problem.Stints[index].Task.Id, Stint = problem.Stints[index].Number };
            else report = report with { Night = problem.Nights[work.Night].Id, CleanDown = problem.Zones[work.Zone].Id };
            var roll = random.Next(10);
            if (roll == 0) continue;
            if (work.Stint is not null && roll == 1) report = report with { State = WorkState.Reopened };
            else if (work.Stint is not null && roll == 2)
                report = report with
                {
                    State = WorkState.Blocked, Until = problem.Grid.TimeOf(now + random.Next(60)),
                    RemainingMinutes = random.Next(2) == 0 ? 20 : null,
                };
            else if (to <= now) report = report with { To = problem.Grid.TimeOf(Math.Max(from + 1, to)) };
            else
                report = report with
                {
                    State = WorkState.Running,
                    RemainingMinutes = work.Stint is not null && random.Next(2) == 0 ? random.Next(1, 40) : null,
                };
            reports.Add(report);
        }
        return reports;
    }
}
