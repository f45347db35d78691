using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Slack;

/// <summary>Where work has no slack: against times, after other work, and in what it shares.</summary>
internal static class SlackOfWork
{
    public static IEnumerable<Breach> Launch(Problem problem, IReadOnlyList<Work> planned) =>
        from work in planned
        let left = problem.Launch - work.To
        where NoSlack.None(problem, left)
        select new Breach("launch", Say.About(problem, work),
            $"{Say.Work(problem, work)} is done {NoSlack.Spare(left)} for the launch.");

    public static IEnumerable<Breach> Dues(Problem problem, IReadOnlyList<Work> planned) =>
        from work in planned
        where work.Stint is not null
        let stint = problem.Stints[work.Stint!.Value]
        where stint.IsLast && stint.Task.Due < Problem.Never
        let left = stint.Task.Due - work.To
        where NoSlack.None(problem, left)
        select new Breach("due", Say.About(problem, work),
            $"{Say.Work(problem, work)} is done {NoSlack.Spare(left)} when it is due.");

    public static IEnumerable<Breach> Kits(Problem problem, IReadOnlyList<Work> planned) =>
        from kit in problem.Week.Kits
        where kit.Eta is not null
        let eta = problem.Grid.MinuteOf(kit.Eta!.Value)
        let first = planned.FirstOrDefault(work => work.Stint is { } stint
            && problem.Week.Tasks[problem.Stints[stint].Task.Index].Needs.Any(need => need.Kit == kit.Id))
        where first is not null && NoSlack.None(problem, first.From - eta)
        select new Breach("kit", Say.About(problem, first) with { Kit = kit.Id },
            $"{Say.Work(problem, first)} starts {Say.At(problem, first.From)}, as soon as {kit.Name} is in.");

    public static IEnumerable<Breach> Drying(Problem problem, Schedule schedule, IReadOnlyList<Work> planned)
    {
        var byStint = schedule.ByStint(problem);
        return from work in planned
               where work.Stint is not null
               from link in problem.Stints[work.Stint!.Value].Task.After
               where link.DryMinutes > 0
               let before = byStint[problem.Activities[link.Task].LastStint]
               where before is not null && NoSlack.None(problem, work.From - before.To - link.DryMinutes)
               select new Breach("drying", Say.About(problem, work),
                   $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, as soon as "
                       + $"{Say.Task(problem, problem.Activities[link.Task])} is dry.");
    }

    public static IEnumerable<Breach> Bans(Problem problem, IReadOnlyList<Work> planned) =>
        from work in planned
        where work.Stint is not null
        from ban in problem.Nights[work.Night].Bans
        where problem.Stints[work.Stint!.Value].Task.Traits.Contains(ban.Trait)
            && (NoSlack.None(problem, ban.Span.From - work.To) || NoSlack.None(problem, work.From - ban.Span.To))
        select new Breach("ban", Say.About(problem, work), work.To <= ban.Span.From
            ? $"{Say.Work(problem, work)} ends {Say.At(problem, work.To)}, just before no work that is “{ban.Trait}” may be done."
            : $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, as soon as work that is “{ban.Trait}” may be done.");

    public static IEnumerable<Breach> ZoneClosed(Problem problem, Schedule schedule, IReadOnlyList<Work> planned) =>
        from work in planned
        from before in schedule.Work
        where before.Zone == work.Zone && before.Stint is { } index
            && problem.Stints[index] is { IsLast: true, Task.ClosesZone: > 0 }
        let open = before.To + problem.Stints[before.Stint!.Value].Task.ClosesZone
        where NoSlack.None(problem, work.From - open)
        select new Breach("zone-closed", Say.About(problem, work) with { Zone = problem.Zones[work.Zone].Id },
            $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, as soon as {problem.Zones[work.Zone].Name} is "
                + "open again.");

    public static IEnumerable<Breach> Equipment(Problem problem, Schedule schedule, IReadOnlyList<Work> planned) =>
        problem.EquipmentCounts.SelectMany((count, piece) => Full(schedule, planned, count,
                work => problem.WayOf(work)?.Equipment.Where(use => use.Equipment == piece).Sum(use => use.Count) ?? 0).Take(1)
            .Select(work => new Breach("equipment",
                Say.About(problem, work) with { Equipment = problem.Week.Store.Equipment[piece].Id },
                $"From {Say.At(problem, work.From)} {(count == 1 ? "the only" : $"all {count} of")} "
                    + $"“{problem.Week.Store.Equipment[piece].Id}” {(count == 1 ? "is" : "are")} in use.")));

    public static IEnumerable<Breach> Rooms(Problem problem, Schedule schedule, IReadOnlyList<Work> planned) =>
        problem.Zones.Where(zone => zone.MaxPeople < Problem.Never).SelectMany(zone => Full(schedule, planned, zone.MaxPeople,
                work => work.Zone == zone.Index ? work.People.Count : 0).Take(1)
            .Select(work => new Breach("zone-room", Say.About(problem, work) with { Zone = zone.Id },
                $"From {Say.At(problem, work.From)} {zone.Name} is full: {InWords.People(zone.MaxPeople)} at work.")));

    /// <summary>When a night closes; that it opens when it does is where every plan begins.</summary>
    public static IEnumerable<Breach> Windows(Problem problem, IReadOnlyList<Work> planned, IReadOnlyList<Shift> shifts) =>
        NoSlack.InEachNight(problem, night =>
        {
            var ends = planned.Where(work => work.Night == night.Index).Select(work => work.To)
                .Concat(shifts.Where(shift => shift.Night == night.Index).Select(shift => shift.To))
                .DefaultIfEmpty(night.Opens).Max();
            return !NoSlack.None(problem, night.Closes - ends) ? null : new Breach("window", new About { Night = night.Id },
                $"In {InWords.Night(problem.Week, night.Id)} the store is worked on until the end, "
                    + $"{Say.At(problem, night.Closes)}.");
        });

    /// <summary>Work at whose start all that there is, is taken.</summary>
    private static IEnumerable<Work> Full(Schedule schedule, IReadOnlyList<Work> planned, int capacity, Func<Work, int> takes) =>
        planned.Where(start => takes(start) > 0 && schedule.Work
            .Where(work => work.Night == start.Night && work.From <= start.From && start.From < work.To).Sum(takes) == capacity);
}
