using SetWeek.Model.Changes;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Ids, stints and modes of a plan that its week does not have, and nights given twice.</summary>
internal static class PlanFaults
{
    public static IEnumerable<Fault> Of(Plan plan, Week week)
    {
        var known = new WeekIds(week);
        var tasks = week.Tasks.ToDictionary(task => task.Id);
        IEnumerable<Fault?> found =
        [
            .. OfWhole(plan, week),
            .. plan.LeftOut.Index().Select(left => known.Displays.Fault($"/leftOut/{left.Index}", left.Item)),
            .. plan.Nights.Index().SelectMany(night => OfNight($"/nights/{night.Index}", night.Item, known, tasks)),
            .. plan.Breaches.Index().SelectMany(breach => OfAbout($"/breaches/{breach.Index}/about", breach.Item.About, known)),
            .. plan.Conflict.Index().SelectMany(breach => OfAbout($"/conflict/{breach.Index}/about", breach.Item.About, known)),
            .. plan.Repairs.Index().SelectMany(repair => OfRepair($"/repairs/{repair.Index}", repair.Item, known)),
        ];
        return found.OfType<Fault>();
    }

    /// <summary>What is wrong with a plan whatever its week: it is another week's, or says twice what it can say once.</summary>
    public static IEnumerable<Fault?> OfWhole(Plan plan, Week week)
    {
        if (plan.Week.Length > 0 && plan.Week != week.Id)
            yield return new Fault("/week",
                $"This is a plan of {Echo.Of(plan.Week)}, and the week is {Echo.Of(week.Id)}; give the files that belong "
                + "together.");
        var seen = new HashSet<string>();
        foreach (var (index, night) in plan.Nights.Index())
            if (night.Night.Length > 0 && !seen.Add(night.Night))
                yield return new Fault($"/nights/{index}/night", $"Night {Echo.Of(night.Night)} is given twice; join the two.");
    }

    /// <summary>A published plan is read as facts, which happen once.</summary>
    public static IEnumerable<Fault> Doubled(Plan plan)
    {
        var seen = new HashSet<(string, int?)>();
        foreach (var (number, night) in plan.Nights.Index())
            foreach (var (index, work) in night.Work.Index())
                if (work is { Task.Length: > 0, Stint: > 0 } && !seen.Add((work.Task, work.Stint)))
                    yield return new Fault($"/nights/{number}/work/{index}",
                        $"Stint {work.Stint} of {Echo.Of(work.Task)} is planned twice; keep one.");
    }

    private static IEnumerable<Fault?> OfNight(string at, PlannedNight night, WeekIds known, Dictionary<string, SetTask> tasks) =>
    [
        known.Nights.Fault($"{at}/night", night.Night),
        known.Crew.Fault($"{at}/keyholder", night.Keyholder),
        .. night.Shifts.Index().Select(shift => known.Crew.Fault($"{at}/shifts/{shift.Index}/person", shift.Item.Person)),
        .. night.Work.Index().SelectMany(work => OfWork($"{at}/work/{work.Index}", work.Item, known, tasks)),
    ];

    private static IEnumerable<Fault?> OfWork(string at, PlannedWork work, WeekIds known, Dictionary<string, SetTask> tasks)
    {
        yield return known.Tasks.Fault($"{at}/task", work.Task);
        yield return known.Zones.Fault($"{at}/cleanDown", work.CleanDown);
        if (work.Task is not null && tasks.TryGetValue(work.Task, out var task))
        {
            if (work.Stint > task.Stints)
                yield return new Fault($"{at}/stint",
                    $"{Echo.Of(task.Id)} has {task.Stints} stints, counted from 1; give one of them.");
            if (work.Mode >= task.Modes.Count)
                yield return new Fault($"{at}/mode",
                    $"{Echo.Of(task.Id)} has {task.Modes.Count} modes, counted from 0; give one of them.");
        }
        foreach (var (index, one) in work.People.Index())
        {
            yield return known.Crew.Fault($"{at}/people/{index}/person", one.Person);
            yield return known.Skills.Fault($"{at}/people/{index}/skill", one.Skill);
        }
    }

    private static IEnumerable<Fault?> OfAbout(string at, About about, WeekIds known) =>
    [
        known.Nights.Fault($"{at}/night", about.Night), known.Crew.Fault($"{at}/person", about.Person),
        known.Tasks.Fault($"{at}/task", about.Task), known.Zones.Fault($"{at}/zone", about.Zone),
        known.Kits.Fault($"{at}/kit", about.Kit), known.Displays.Fault($"{at}/display", about.Display),
        known.Skills.Fault($"{at}/skill", about.Skill), known.Equipment.Fault($"{at}/equipment", about.Equipment),
    ];

    private static IEnumerable<Fault?> OfRepair(string at, Repair repair, WeekIds known) => repair.Changes.Index()
        .SelectMany(change => ChangeShape.Faults(change.Index == 0 ? at : $"{at}/and", change.Item, known));
}
