using System.Globalization;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench.Shifts;

/// <summary>
/// Plans the fixed weeks and the weeks of docs/examples and reports how their shifts look: breaks near the ends of a shift, work
/// handed over, zone changes and idle minutes, beside the cost. Effort is a deterministic measure, so a busy machine changes no
/// figure. Arguments, in any order: effort, weeks or a size, and goals in their order, separated by commas.
/// </summary>
internal static class ShiftsBench
{
    private const double DefaultEffort = 10;

    public static int Run(IReadOnlyList<string> arguments)
    {
        var effort = arguments.Select(Number).FirstOrDefault(given => given is not null) ?? DefaultEffort;
        var goals = arguments.Select(GoalsOf).FirstOrDefault(given => given is not null);
        string[] only = [.. arguments.Where(argument => Number(argument) is null && GoalsOf(argument) is null)];
        var (failed, shifts, moves, handovers, handedOver, idle, useless, breaks) = (0, 0, 0L, 0L, 0, 0L, 0, 0);
        foreach (var week in FixedWeeks.All().Where(week =>
            only.Length == 0 || only.Any(name => week.Id.Contains(name, StringComparison.Ordinal))))
        {
            var asked = week with { Goals = goals ?? Week.DefaultGoals };
            var problem = Problem.Of(asked);
            var plan = Planner.Plan(asked, new SearchLimits { Effort = effort, Workers = 1 });
            var schedule = PlanConverter.ScheduleOf(problem, plan);
            var broken = plan.Nights.Count == 0 ? -1 : Checker.Check(problem, schedule).Count;
            if (broken != 0) failed++;
            var figures = new ShiftFigures(problem, schedule);
            long Value(GoalId goal) => PlanAudit.Measure(problem, plan, goal);
            JsonLines.Print(new
            {
                week = week.Id, broken, leftOut = Value(GoalId.LeftOut), bare = Value(GoalId.Bare), cost = Value(GoalId.Cost),
                handovers = Value(GoalId.Handovers), handedOverWithoutGap = figures.HandedOver,
                figures.Shifts, figures.Breaks, breaksInFirstOrLastHour = figures.UselessBreaks,
                zoneChangesAShift = Each(Value(GoalId.Moves), figures.Shifts),
                idleMinutesAShift = Each(figures.IdleMinutes, figures.Shifts),
            });
            (shifts, moves, idle) = (shifts + figures.Shifts, moves + Value(GoalId.Moves), idle + figures.IdleMinutes);
            (handovers, handedOver) = (handovers + Value(GoalId.Handovers), handedOver + figures.HandedOver);
            (breaks, useless) = (breaks + figures.Breaks, useless + figures.UselessBreaks);
        }
        JsonLines.Print(new
        {
            weeks = "all", effort, goals = string.Join(", ", (goals ?? Week.DefaultGoals).Select(choice => choice.Goal.Text())),
            handovers, handedOverWithoutGap = handedOver, shifts, breaks, breaksInFirstOrLastHour = useless,
            zoneChangesAShift = Each(moves, shifts), idleMinutesAShift = Each(idle, shifts),
        });
        return failed == 0 ? 0 : 1;
    }

    private static double Each(long total, int shifts) => shifts == 0 ? 0 : Math.Round((double)total / shifts, 2);

    private static double? Number(string argument) =>
        double.TryParse(argument, CultureInfo.InvariantCulture, out var number) ? number : null;

    private static GoalChoice[]? GoalsOf(string argument)
    {
        var names = argument.Split(',').Select(GoalIds.Parse).ToArray();
        return names.Any(goal => goal is null) ? null : [.. names.Select(goal => new GoalChoice(goal!.Value))];
    }
}
