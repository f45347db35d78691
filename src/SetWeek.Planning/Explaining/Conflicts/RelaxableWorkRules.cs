using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// Relaxable rules of the work itself: the order of tasks, drying, closed zones and clean-downs.
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
            $"{WeekPhrases.Task(week, task)} must be done in the same night as "
                + $"{WeekPhrases.ListFirst([.. begun.Select(precedence => WeekPhrases.Task(week, precedence.Task))])}.",
            ChangePrecedences(task, precedence => precedence with { SameNight = false })) { Name = WeekPhrases.Task(week, task) };

    /// <summary>Traits whose work nobody does alone in its zone.</summary>
    public static IEnumerable<RelaxableRule> Company(Week week) =>
        from company in week.Rules.Company
        where week.Tasks.Any(task => task.Traits.Contains(company.Trait))
        select new RelaxableRule(RuleId.Company, new RuleSubject(),
            $"“{company.Trait}” work needs at least {WeekPhrases.People(company.People)} at work in its zone.",
            all => all with { Rules = all.Rules with { Company = [.. all.Rules.Company.Where(other => other != company)] } })
            { Name = company.Trait };

    /// <summary>Plain precedences. Those with drying, or in the same night, belong to those rules.</summary>
    public static IEnumerable<RelaxableRule> Precedences(Week week) =>
        from task in week.Tasks
        let plain = task.After.Where(precedence => precedence is { DryMinutes: 0, SameNight: false }).ToArray()
        where plain.Length > 0
        select new RelaxableRule(RuleId.After, new RuleSubject { Task = task.Id },
            $"{WeekPhrases.Task(week, task)} must come after "
                + $"{WeekPhrases.ListFirst([.. plain.Select(precedence => WeekPhrases.Task(week, precedence.Task))])}.",
            ChangeTask(task, changed => changed with
            {
                After = [.. changed.After.Where(precedence => plain.All(removed => removed.Task != precedence.Task))],
            }))
            { Name = WeekPhrases.Task(week, task) };

    public static IEnumerable<RelaxableRule> ZoneClosed(Week week) =>
        from task in week.Tasks
        where task.ClosesZoneMinutes > 0
        let zone = week.Store.Zones.First(zone => zone.Id == task.Zone)
        select new RelaxableRule(RuleId.ZoneClosed, new RuleSubject { Task = task.Id, Zone = zone.Id },
            $"For {RulePhrases.Duration(task.ClosesZoneMinutes)} after {WeekPhrases.Task(week, task)}, nobody may work in "
                + $"{zone.Name}.",
            ChangeTask(task, changed => changed with { ClosesZoneMinutes = 0 })) { Name = WeekPhrases.Task(week, task) };

    public static IEnumerable<RelaxableRule> CleanDowns(Week week) =>
        from zone in week.Store.Zones
        let down = zone.CleanDown
        where down is not null
        select new RelaxableRule(RuleId.CleanDown, new RuleSubject { Zone = zone.Id },
            $"Each night's work in {zone.Name} is followed by a clean-down of {RulePhrases.Duration(down.Minutes)}.",
            all => all with
            {
                Store = all.Store with { Zones =
                    [.. all.Store.Zones.Select(other => other.Id == zone.Id ? other with { CleanDown = null } : other)] },
            }) { Name = zone.Name };

    public static RelaxableRule? FinalTask(Week week) => week.Tasks.FirstOrDefault(task => task.Last) is not { } last ? null
        : new(RuleId.Last, new RuleSubject { Task = last.Id }, $"{WeekPhrases.Task(week, last)} must come after all other work.",
            ChangeTask(last, task => task with { Last = false }));

    private static Func<Week, Week> ChangePrecedences(WeekTask task, Func<TaskPrecedence, TaskPrecedence> change) =>
        ChangeTask(task, changed => changed with { After = [.. changed.After.Select(change)] });

    private static Func<Week, Week> ChangeTask(WeekTask task, Func<WeekTask, WeekTask> change) =>
        week => week with { Tasks = [.. week.Tasks.Select(other => other.Id == task.Id ? change(other) : other)] };
}
