using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Places;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Slack;

/// <summary>Rule instances on work that have no slack in a plan: deadlines, precedences and shared resources.</summary>
internal static class WorkSlack
{
    /// <summary>Work that ends just before everything must be ready for the launch.</summary>
    public static IEnumerable<Breach> Launch(Problem problem, IReadOnlyList<ScheduledWork> planned) =>
        from work in planned
        let left = problem.Launch - work.To
        where TightRules.IsTight(problem, left)
        select new Breach(RuleId.Launch, RulePhrases.Subject(problem, work),
            $"{RulePhrases.Work(problem, work)} ends {TightRules.SlackInWords(left)} everything must be ready for the launch.");

    /// <summary>Tasks that end just before they are due.</summary>
    public static IEnumerable<Breach> Dues(Problem problem, IReadOnlyList<ScheduledWork> planned) =>
        from work in planned
        where work.Stint is not null
        let stint = problem.Stints[work.Stint!.Value]
        where stint.IsLast && stint.Task.Due < Problem.Never
        let left = stint.Task.Due - work.To
        where TightRules.IsTight(problem, left)
        select new Breach(RuleId.Due, RulePhrases.Subject(problem, work),
            $"{RulePhrases.Work(problem, work)} ends {TightRules.SlackInWords(left)} it is due.");

    /// <summary>Kits whose first work starts as soon as they arrive.</summary>
    public static IEnumerable<Breach> Kits(Problem problem, IReadOnlyList<ScheduledWork> planned) =>
        from kit in problem.Week.Kits
        where kit.Eta is not null
        let eta = problem.Grid.MinuteOf(kit.Eta!.Value)
        let first = planned.FirstOrDefault(work => work.Stint is { } stint
            && problem.Week.Tasks[problem.Stints[stint].Task.Index].Needs.Any(need => need.Kit == kit.Id))
        where first is not null && TightRules.IsTight(problem, first.From - eta)
        select new Breach(RuleId.Kit, RulePhrases.Subject(problem, first) with { Kit = kit.Id },
            $"{RulePhrases.Work(problem, first)} starts {RulePhrases.Time(problem, first.From)}, as soon as “{kit.Name}” has "
                + "come.");

    /// <summary>Work that starts as soon as its predecessor is dry.</summary>
    public static IEnumerable<Breach> Drying(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned)
    {
        var byStint = schedule.WorkByStint(problem);
        return from work in planned
               where work.Stint is not null
               from precedence in problem.Stints[work.Stint!.Value].Task.Precedences
               where precedence.LagMinutes > 0
               let before = byStint[problem.Tasks[precedence.Predecessor].LastStint]
               where before is not null && TightRules.IsTight(problem, work.From - before.To - precedence.LagMinutes)
               select new Breach(RuleId.Drying, RulePhrases.Subject(problem, work),
                   $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, as soon as "
                       + $"{RulePhrases.Task(problem, problem.Tasks[precedence.Predecessor])} is dry.");
    }

    /// <summary>Work that ends just before a ban or starts just after one.</summary>
    public static IEnumerable<Breach> Bans(Problem problem, IReadOnlyList<ScheduledWork> planned) =>
        from work in planned
        where work.Stint is not null
        from ban in problem.Nights[work.Night].Bans
        where problem.Stints[work.Stint!.Value].Task.Traits.Contains(ban.Trait)
            && (TightRules.IsTight(problem, ban.Span.From - work.To) || TightRules.IsTight(problem, work.From - ban.Span.To))
        select new Breach(RuleId.Ban, RulePhrases.Subject(problem, work), work.To <= ban.Span.From
            ? $"{RulePhrases.Work(problem, work)} ends {RulePhrases.Time(problem, work.To)}, "
                + $"just before the “{ban.Trait}” ban."
            : $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, just after the "
                + $"“{ban.Trait}” ban.");

    /// <summary>Work that starts as soon as its zone is open again.</summary>
    public static IEnumerable<Breach> ZoneClosed(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned)
    {
        var opens = (from before in schedule.Work
                     where before.Stint is { } index && problem.Stints[index] is { IsLast: true, Task.ClosesZoneMinutes: > 0 }
                     select (before.Zone, At: before.To + problem.Stints[before.Stint!.Value].Task.ClosesZoneMinutes))
            .ToLookup(open => open.Zone, open => open.At);
        return from work in planned
               from open in opens[work.Zone]
               where TightRules.IsTight(problem, work.From - open)
               select new Breach(RuleId.ZoneClosed,
                   RulePhrases.Subject(problem, work) with { Zone = problem.Zones[work.Zone].Id },
                   $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, as soon as "
                       + $"{problem.Zones[work.Zone].Name} is open again.");
    }

    /// <summary>Equipment that is fully in use at some start.</summary>
    public static IEnumerable<Breach> Equipment(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned) =>
        problem.EquipmentCapacities.SelectMany((count, piece) => AtCapacity(schedule, planned, count,
                work => problem.ModeOf(work)?.Equipment.Where(use => use.Equipment == piece).Sum(use => use.Count) ?? 0).Take(1)
            .Select(work => new Breach(RuleId.Equipment,
                RulePhrases.Subject(problem, work) with { Equipment = problem.Week.Store.Equipment[piece].Id },
                $"From {RulePhrases.Time(problem, work.From)} {(count == 1 ? "the only" : $"all {count} of")} "
                    + $"“{problem.Week.Store.Equipment[piece].Id}” {(count == 1 ? "is" : "are")} in use.")));

    /// <summary>Zones that are full at some start.</summary>
    public static IEnumerable<Breach> ZoneCapacities(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned) =>
        problem.Zones.Where(zone => zone.MaxPeople < Problem.Never)
            .SelectMany(zone => AtCapacity(schedule, planned, zone.MaxPeople,
                work => work.Zone == zone.Index ? work.Assignments.Count : 0).Take(1)
            .Select(work => new Breach(RuleId.ZoneRoom, RulePhrases.Subject(problem, work) with { Zone = zone.Id },
                $"From {RulePhrases.Time(problem, work.From)} {zone.Name} is full: {WeekPhrases.People(zone.MaxPeople)} at "
                    + "work.")));

    /// <summary>Work during which, at some moment, no more people are at work in its zone than it needs for company.</summary>
    public static IEnumerable<Breach> Company(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned)
    {
        foreach (var work in planned)
        {
            if (work.Stint is not { } stint || problem.Stints[stint].Task.Company is not { } company) continue;
            var tight = CompanyRule.PeopleInZone(schedule, work).Where(at => at.People == company.People)
                .Select(at => (int?)at.Moment).FirstOrDefault();
            if (tight is { } from)
                yield return new Breach(RuleId.Company,
                    RulePhrases.Subject(problem, work) with { Zone = problem.Zones[work.Zone].Id },
                    $"From {RulePhrases.Time(problem, from)} just {WeekPhrases.People(company.People)} "
                        + $"{(company.People == 1 ? "is" : "are")} at work in {problem.Zones[work.Zone].Name}, the least that "
                        + $"{RulePhrases.Work(problem, work)} needs as “{company.Trait}” work.");
        }
    }

    /// <summary>Nights with work or shifts up to their end. Their opening is left out, because every plan starts there.</summary>
    public static IEnumerable<Breach> NightWindows(
        Problem problem, IReadOnlyList<ScheduledWork> planned, IReadOnlyList<ScheduledShift> shifts) =>
        TightRules.InEachNight(problem, night =>
        {
            var ends = planned.Where(work => work.Night == night.Index).Select(work => work.To)
                .Concat(shifts.Where(shift => shift.Night == night.Index).Select(shift => shift.To))
                .DefaultIfEmpty(night.Opens).Max();
            return !TightRules.IsTight(problem, night.Closes - ends) ? null
                : new Breach(RuleId.Window, new RuleSubject { Night = night.Id },
                    $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} is used until it closes, "
                        + $"{RulePhrases.Time(problem, night.Closes)}.");
        });

    /// <summary>Planned work at whose start the resource is fully used.</summary>
    private static IEnumerable<ScheduledWork> AtCapacity(
        Schedule schedule, IReadOnlyList<ScheduledWork> planned, int capacity, Func<ScheduledWork, int> usage) =>
        planned.Where(start => usage(start) > 0 && schedule.Work
            .Where(work => work.Night == start.Night && work.From <= start.From && start.From < work.To).Sum(usage) == capacity);
}
