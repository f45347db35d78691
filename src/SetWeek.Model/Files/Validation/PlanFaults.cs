using NodaTime;
using SetWeek.Model.Changes.Format;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds ids, stints and modes in a plan that its week does not have, and nights that are given twice.</summary>
internal static class PlanFaults
{
    public static IEnumerable<Fault> Of(Plan plan, Week week)
    {
        var known = new WeekIds(week);
        var tasks = week.Tasks.ToDictionary(task => task.Id);
        IEnumerable<Fault?> found =
        [
            .. PlanWideFaults(plan, week),
            .. plan.LeftOut.Index().Select(left => known.Displays.UnknownIdFault($"/leftOut/{left.Index}", left.Item)),
            .. plan.Nights.Index().SelectMany(night => NightFaults($"/nights/{night.Index}", night.Item, known, tasks)),
            .. OffsetFaults(plan, week),
            .. plan.Breaches.Index().SelectMany(breach =>
                SubjectFaults($"/breaches/{breach.Index}/about", breach.Item.About, known)),
            .. plan.Conflict.Index().SelectMany(breach =>
                SubjectFaults($"/conflict/{breach.Index}/about", breach.Item.About, known)),
            .. plan.Repairs.Index().SelectMany(repair => RepairFaults($"/repairs/{repair.Index}", repair.Item, known)),
        ];
        return found.OfType<Fault>();
    }

    /// <summary>Faults that do not depend on what the week contains: a plan of another week, and a night given twice.</summary>
    public static IEnumerable<Fault?> PlanWideFaults(Plan plan, Week week)
    {
        if (plan.Week.Length > 0 && plan.Week != week.Id)
            yield return new Fault("/week",
                $"This is a plan of {QuotedInput.Of(plan.Week)}, but the week is {QuotedInput.Of(week.Id)}; give files "
                + "that belong together.");
        var seen = new HashSet<string>();
        foreach (var (index, night) in plan.Nights.Index())
            if (night.Night.Length > 0 && !seen.Add(night.Night))
                yield return new Fault($"/nights/{index}/night",
                    $"Night {QuotedInput.Of(night.Night)} is given twice; merge the two.");
    }

    /// <summary>Stints planned twice. A published plan states facts, and a stint is done once.</summary>
    public static IEnumerable<Fault> DuplicateStints(Plan plan)
    {
        var seen = new HashSet<(string, int?)>();
        foreach (var (number, night) in plan.Nights.Index())
            foreach (var (index, work) in night.Work.Index())
                if (work is { Task.Length: > 0, Stint: > 0 } && !seen.Add((work.Task, work.Stint)))
                    yield return new Fault($"/nights/{number}/work/{index}",
                        $"Stint {work.Stint} of {QuotedInput.Of(work.Task)} is planned twice; keep one.");
    }

    private static IEnumerable<Fault?> NightFaults(
        string at, PlannedNight night, WeekIds known, Dictionary<string, WeekTask> tasks) =>
    [
        known.Nights.UnknownIdFault($"{at}/night", night.Night),
        known.Crew.UnknownIdFault($"{at}/keyholder", night.Keyholder),
        .. night.Shifts.Index().Select(shift =>
            known.Crew.UnknownIdFault($"{at}/shifts/{shift.Index}/person", shift.Item.Person)),
        .. night.Work.Index().SelectMany(work => WorkFaults($"{at}/work/{work.Index}", work.Item, known, tasks)),
    ];

    private static IEnumerable<Fault?> WorkFaults(string at, PlannedWork work, WeekIds known, Dictionary<string, WeekTask> tasks)
    {
        yield return known.Tasks.UnknownIdFault($"{at}/task", work.Task);
        yield return known.Zones.UnknownIdFault($"{at}/cleanDown", work.CleanDown);
        if (work.Task is not null && tasks.TryGetValue(work.Task, out var task))
        {
            if (work.Stint > task.Stints)
                yield return new Fault($"{at}/stint",
                    $"{QuotedInput.Of(task.Id)} has {task.Stints} stints; give a stint number from 1 to {task.Stints}.");
            if (work.Mode >= task.Modes.Count)
                yield return new Fault($"{at}/mode",
                    $"{QuotedInput.Of(task.Id)} has {task.Modes.Count} modes; give a mode number "
                    + $"from 0 to {task.Modes.Count - 1}.");
        }
        foreach (var (index, assigned) in work.People.Index())
        {
            yield return known.Crew.UnknownIdFault($"{at}/people/{index}/person", assigned.Person);
            yield return known.Skills.UnknownIdFault($"{at}/people/{index}/skill", assigned.Skill);
        }
    }

    /// <summary>Times whose offset is not that of the store at that instant, so that their local part misleads.</summary>
    private static IEnumerable<Fault> OffsetFaults(Plan plan, Week week)
    {
        // The time zone of a valid week is known.
        var zone = DateTimeZoneProviders.Tzdb[week.Store.TimeZone];
        return
            from night in plan.Nights.Index()
            from time in TimesOf(night.Item)
            where time.Value != default
            let there = time.Value.ToInstant().InZone(zone).ToOffsetDateTime()
            where there.Offset != time.Value.Offset
            select new Fault($"/nights/{night.Index}/{time.At}",
                $"At that moment the store's time is {TimePatterns.Write(there)}; give that.");
    }

    private static IEnumerable<(string At, OffsetDateTime Value)> TimesOf(PlannedNight night) =>
    [
        .. night.Shifts.Index().SelectMany(shift => (IEnumerable<(string, OffsetDateTime)>)
            [($"shifts/{shift.Index}/from", shift.Item.From), ($"shifts/{shift.Index}/to", shift.Item.To),
                .. shift.Item.Break is { } rest ? [($"shifts/{shift.Index}/break/from", rest.From),
                    ($"shifts/{shift.Index}/break/to", rest.To)] : Array.Empty<(string, OffsetDateTime)>()]),
        .. night.Work.Index().SelectMany(work => ((string, OffsetDateTime)[])
            [($"work/{work.Index}/from", work.Item.From), ($"work/{work.Index}/to", work.Item.To)]),
    ];

    private static IEnumerable<Fault?> SubjectFaults(string at, RuleSubject about, WeekIds known) =>
    [
        known.Nights.UnknownIdFault($"{at}/night", about.Night), known.Crew.UnknownIdFault($"{at}/person", about.Person),
        known.Tasks.UnknownIdFault($"{at}/task", about.Task), known.Zones.UnknownIdFault($"{at}/zone", about.Zone),
        known.Kits.UnknownIdFault($"{at}/kit", about.Kit), known.Displays.UnknownIdFault($"{at}/display", about.Display),
        known.Skills.UnknownIdFault($"{at}/skill", about.Skill),
        known.Equipment.UnknownIdFault($"{at}/equipment", about.Equipment),
    ];

    private static IEnumerable<Fault?> RepairFaults(string at, Repair repair, WeekIds known) => repair.Changes.Index()
        .SelectMany(change =>
            ChangeFormat.Faults(at + string.Concat(Enumerable.Repeat("/and", change.Index)), change.Item, known));
}
