using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// What the work itself asks for: the order of tasks, drying, closed zones, clean-downs; each with the week without it.
/// </summary>
internal static class RelaxableWorkRules
{
    public static IEnumerable<RelaxableRule> Drying(Week week) =>
        from task in week.Tasks
        let wet = task.After.Where(precedence => precedence.DryMinutes > 0).ToArray()
        where wet.Length > 0
        select new RelaxableRule(RuleId.Drying, new RuleSubject { Task = task.Id },
            $"{WeekPhrases.Task(week, task)} waits until {WeekPhrases.ListFirst([.. wet.Select(precedence =>
                $"{WeekPhrases.Task(week, precedence.Task)} has dried for {RulePhrases.Duration(precedence.DryMinutes)}")])}.",
            ChangePrecedences(task, precedence => precedence with { DryMinutes = 0 })) { Name = WeekPhrases.Task(week, task) };

    public static IEnumerable<RelaxableRule> SameNight(Week week) =>
        from task in week.Tasks
        let begun = task.After.Where(precedence => precedence.SameNight).ToArray()
        where begun.Length > 0
        select new RelaxableRule(RuleId.SameNight, new RuleSubject { Task = task.Id },
            $"{WeekPhrases.Task(week, task)} is done in the same night as "
                + $"{WeekPhrases.ListFirst([.. begun.Select(precedence => WeekPhrases.Task(week, precedence.Task))])}.",
            ChangePrecedences(task, precedence => precedence with { SameNight = false })) { Name = WeekPhrases.Task(week, task) };

    /// <summary>Work that waits for drying, or for the same night's work, waits for its end too, and is let be here.</summary>
    public static IEnumerable<RelaxableRule> Precedences(Week week) =>
        from task in week.Tasks
        let plain = task.After.Where(precedence => precedence is { DryMinutes: 0, SameNight: false }).ToArray()
        where plain.Length > 0
        select new RelaxableRule(RuleId.After, new RuleSubject { Task = task.Id },
            $"{WeekPhrases.Task(week, task)} comes after {WeekPhrases.ListFirst([.. plain.Select(precedence => WeekPhrases.Task(week, precedence.Task))])}.",
            ChangeTask(task, one => one with { After = [.. one.After.Where(precedence => plain.All(first => first.Task != precedence.Task))] }))
            { Name = WeekPhrases.Task(week, task) };

    public static IEnumerable<RelaxableRule> ZoneClosed(Week week) =>
        from task in week.Tasks
        where task.ClosesZoneMinutes > 0
        let zone = week.Store.Zones.First(zone => zone.Id == task.Zone)
        select new RelaxableRule(RuleId.ZoneClosed, new RuleSubject { Task = task.Id, Zone = zone.Id },
            $"For {RulePhrases.Duration(task.ClosesZoneMinutes)} after {WeekPhrases.Task(week, task)} nobody works in {zone.Name}.",
            ChangeTask(task, one => one with { ClosesZoneMinutes = 0 })) { Name = WeekPhrases.Task(week, task) };

    public static IEnumerable<RelaxableRule> CleanDowns(Week week) =>
        from zone in week.Store.Zones
        let down = zone.CleanDown
        where down is not null
        select new RelaxableRule(RuleId.CleanDown, new RuleSubject { Zone = zone.Id },
            $"{zone.Name} is cleaned down for {RulePhrases.Duration(down.Minutes)} at the end of each night's work in it.",
            all => all with
            {
                Store = all.Store
                    with { Zones = [.. all.Store.Zones.Select(one => one.Id == zone.Id ? one with { CleanDown = null } : one)] },
            }) { Name = zone.Name };

    public static RelaxableRule? FinalTask(Week week) => week.Tasks.FirstOrDefault(task => task.Last) is not { } last ? null
        : new(RuleId.Last, new RuleSubject { Task = last.Id }, $"{WeekPhrases.Task(week, last)} comes after all other work.",
            ChangeTask(last, task => task with { Last = false }));

    private static Func<Week, Week> ChangePrecedences(WeekTask task, Func<TaskPrecedence, TaskPrecedence> change) =>
        ChangeTask(task, one => one with { After = [.. one.After.Select(change)] });

    private static Func<Week, Week> ChangeTask(WeekTask task, Func<WeekTask, WeekTask> change) =>
        week => week with { Tasks = [.. week.Tasks.Select(one => one.Id == task.Id ? change(one) : one)] };
}
