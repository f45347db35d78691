using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// What the work itself asks for: the order of tasks, drying, closed zones, clean-downs; each with the week without it.
/// </summary>
internal static class WorkRules
{
    public static IEnumerable<Relief> Drying(Week week) =>
        from task in week.Tasks
        let wet = task.After.Where(after => after.DryMinutes > 0).ToArray()
        where wet.Length > 0
        select new Relief("drying", new About { Task = task.Id },
            $"{InWords.Task(week, task)} waits until {InWords.Some([.. wet.Select(after =>
                $"{InWords.Task(week, after.Task)} has dried for {Say.Length(after.DryMinutes)}")])}.",
            Links(task, after => after with { DryMinutes = 0 })) { Name = InWords.Task(week, task) };

    public static IEnumerable<Relief> SameNight(Week week) =>
        from task in week.Tasks
        let begun = task.After.Where(after => after.SameNight).ToArray()
        where begun.Length > 0
        select new Relief("same-night", new About { Task = task.Id },
            $"{InWords.Task(week, task)} is done in the same night as "
                + $"{InWords.Some([.. begun.Select(after => InWords.Task(week, after.Task))])}.",
            Links(task, after => after with { SameNight = false })) { Name = InWords.Task(week, task) };

    /// <summary>Work that waits for drying, or for the same night's work, waits for its end too, and is let be here.</summary>
    public static IEnumerable<Relief> After(Week week) =>
        from task in week.Tasks
        let plain = task.After.Where(after => after is { DryMinutes: 0, SameNight: false }).ToArray()
        where plain.Length > 0
        select new Relief("after", new About { Task = task.Id },
            $"{InWords.Task(week, task)} comes after {InWords.Some([.. plain.Select(after => InWords.Task(week, after.Task))])}.",
            Tasks(task, one => one with { After = [.. one.After.Where(after => plain.All(first => first.Task != after.Task))] }))
            { Name = InWords.Task(week, task) };

    public static IEnumerable<Relief> ZoneClosed(Week week) =>
        from task in week.Tasks
        where task.ClosesZoneMinutes > 0
        let zone = week.Store.Zones.First(zone => zone.Id == task.Zone)
        select new Relief("zone-closed", new About { Task = task.Id, Zone = zone.Id },
            $"For {Say.Length(task.ClosesZoneMinutes)} after {InWords.Task(week, task)} nobody works in {zone.Name}.",
            Tasks(task, one => one with { ClosesZoneMinutes = 0 })) { Name = InWords.Task(week, task) };

    public static IEnumerable<Relief> CleanDowns(Week week) =>
        from zone in week.Store.Zones
        let down = zone.CleanDown
        where down is not null
        select new Relief("clean-down", new About { Zone = zone.Id },
            $"{zone.Name} is cleaned down for {Say.Length(down.Minutes)} at the end of each night's work in it.",
            all => all with
            {
                Store = all.Store
                    with { Zones = [.. all.Store.Zones.Select(one => one.Id == zone.Id ? one with { CleanDown = null } : one)] },
            }) { Name = zone.Name };

    public static Relief? Last(Week week) => week.Tasks.FirstOrDefault(task => task.Last) is not { } last ? null
        : new("last", new About { Task = last.Id }, $"{InWords.Task(week, last)} comes after all other work.",
            Tasks(last, task => task with { Last = false }));

    private static Func<Week, Week> Links(SetTask task, Func<After, After> change) =>
        Tasks(task, one => one with { After = [.. one.After.Select(change)] });

    private static Func<Week, Week> Tasks(SetTask task, Func<SetTask, SetTask> change) =>
        week => week with { Tasks = [.. week.Tasks.Select(one => one.Id == task.Id ? change(one) : one)] };
}
