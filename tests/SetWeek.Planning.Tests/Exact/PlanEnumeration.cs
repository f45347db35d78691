using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// Enumerates all plans of a very small week and keeps those that the checker accepts. It first enumerates the work and filters
/// it by the rules about work alone, then each person's shifts by the rules about one person, then all combinations.
/// </summary>
internal sealed class PlanEnumeration
{
    private static readonly HashSet<RuleId> SingleWorkRules =
        [RuleId.Grid, RuleId.Window, RuleId.Ban, RuleId.Kit, RuleId.Skill, RuleId.Due, RuleId.Launch];
    private static readonly HashSet<RuleId> WorkRules =
    [
        .. SingleWorkRules,
        RuleId.Whole, RuleId.After, RuleId.Drying, RuleId.SameNight, RuleId.Equipment, RuleId.OnePlace, RuleId.ZoneRoom,
            RuleId.Company, RuleId.ZoneClosed, RuleId.CleanDown, RuleId.Last,
    ];

    private static readonly HashSet<RuleId> SinglePersonRules =
        [RuleId.Grid, RuleId.Window, RuleId.Availability, RuleId.OnShift, RuleId.ShiftLength, RuleId.Break, RuleId.Briefing,
            RuleId.Rest, RuleId.YoungWorker];

    private readonly Problem problem;
    private readonly IGoal[] goals;
    private readonly List<long[]> paretoFront = [];

    private PlanEnumeration(Problem problem) =>
        (this.problem, goals) = (problem, [.. problem.Goals.Select(choice => AllGoals.Of(choice.Goal))]);

    /// <summary>
    /// The lexicographic optimum: each goal with the goals before it capped at their optimum and tolerance. Null: no plan.
    /// </summary>
    public static long[]? BestOf(Problem problem)
    {
        var all = new PlanEnumeration(problem);
        all.EnumerateWork();
        if (all.paretoFront.Count == 0) return null;
        var (remaining, best) = (all.paretoFront, new long[problem.Goals.Count]);
        for (var goal = 0; goal < best.Length; goal++)
        {
            best[goal] = remaining.Min(values => values[goal]);
            var cap = best[goal] + best[goal] * problem.Goals[goal].TolerancePercent / 100;
            remaining = [.. remaining.Where(values => values[goal] <= cap)];
        }
        return best;
    }

    /// <summary>The number of combinations of placements of all stints and rosters of all people.</summary>
    public static double SizeOf(Problem problem)
    {
        var all = new PlanEnumeration(problem);
        return problem.Stints.Aggregate(1.0, (size, stint) => size * (1 + all.PlacementsOf(stint).Count))
            * problem.Crew.Aggregate(1.0, (size, person) => size * (1 + all.Rosters(person.Index, 0).Count()));
    }

    private void EnumerateWork()
    {
        var options = problem.Stints.Select(PlacementsOf).ToArray();
        EnumerateStint(0, options, []);
    }

    private void EnumerateStint(int stint, List<ScheduledWork>[] options, List<ScheduledWork> works)
    {
        if (stint == options.Length)
        {
            EnumerateCleanDown(0, [.. problem.Zones.Where(zone => zone.CleanDown is not null)
                .SelectMany(zone => problem.Nights.Select(night => (zone, night.Index)))], works);
            return;
        }
        if (problem.Facts?.BegunWork[stint] is null) EnumerateStint(stint + 1, options, works);
        foreach (var work in options[stint])
        {
            works.Add(work);
            EnumerateStint(stint + 1, options, works);
            works.RemoveAt(works.Count - 1);
        }
    }

    private void EnumerateCleanDown(int next, (IndexedZone Zone, int Night)[] places, List<ScheduledWork> works)
    {
        if (next == places.Length)
        {
            if (IsBroken(Plan([], works), WorkRules)) return;
            EnumerateShifts([.. works]);
            return;
        }
        var (zone, night) = places[next];
        if (problem.Facts?.BegunCleanDowns.FirstOrDefault(work => work.Zone == zone.Index && work.Night == night) is { } begun)
        {
            EnumerateCleanDown(next + 1, places, [.. works, begun]);
            return;
        }
        EnumerateCleanDown(next + 1, places, works);
        if (!works.Any(work => work.Zone == zone.Index && work.Night == night)) return;
        foreach (var work in PlacementsOf(null, zone.Index, zone.CleanDown!, 0, night))
        {
            works.Add(work);
            EnumerateCleanDown(next + 1, places, works);
            works.RemoveAt(works.Count - 1);
        }
    }

    private void EnumerateShifts(ScheduledWork[] works)
    {
        var rosters = new List<ScheduledShift[]>[problem.Crew.Count];
        foreach (var person in problem.Crew)
        {
            ScheduledWork[] own = [.. works.Where(work => work.Assignments.Any(assignment => assignment.Person == person.Index))
                .Select(work => work with { Assignments = [.. work.Assignments.Where(assignment =>
                    assignment.Person == person.Index)] })];
            // Whether a keyholder's break lies between opening and closing depends on whose shift spans the others.
            var rules = person.Keyholder && problem.Rules.KeyholderPresent
                ? SinglePersonRules.Where(rule => rule != RuleId.Break).ToHashSet() : SinglePersonRules;
            rosters[person.Index] = [.. Rosters(person.Index, 0).Where(shifts => !IsBroken(Plan(shifts, own), rules))];
        }
        EnumerateCrew(0, rosters, [], works);
    }

    private void EnumerateCrew(int person, List<ScheduledShift[]>[] rosters, List<ScheduledShift> shifts, ScheduledWork[] works)
    {
        if (person == rosters.Length)
        {
            var plan = Plan([.. shifts], works);
            long[] values = [.. goals.Select(goal => goal.Measure(problem, plan))];
            if (paretoFront.Any(known => known.Zip(values).All(pair => pair.First <= pair.Second))) return;
            if (WithKeyholders(plan, 0).All(withKeyholder => Checker.Check(problem, withKeyholder).Count > 0)) return;
            paretoFront.RemoveAll(known => known.Zip(values).All(pair => pair.First >= pair.Second));
            paretoFront.Add(values);
            return;
        }
        foreach (var roster in rosters[person])
        {
            shifts.AddRange(roster);
            EnumerateCrew(person + 1, rosters, shifts, works);
            shifts.RemoveRange(shifts.Count - roster.Length, roster.Length);
        }
    }

    private IEnumerable<Schedule> WithKeyholders(Schedule plan, int night)
    {
        if (night == problem.Nights.Count) return [plan];
        var keyholders = plan.Shifts.Where(shift => shift.Night == night && problem.Crew[shift.Person].Keyholder);
        int?[] keyholderChoices = [null, problem.Facts?.Published.Keyholders[night],
            .. keyholders.Select(shift => (int?)shift.Person)];
        return keyholderChoices.SelectMany(choice =>
        {
            var withKeyholder = plan.Keyholders.Select((old, index) => index == night ? choice : old);
            return WithKeyholders(plan with { Keyholders = [.. withKeyholder] }, night + 1);
        });
    }

    private IEnumerable<ScheduledShift[]> Rosters(int person, int night)
    {
        if (night == problem.Nights.Count) return [[]];
        var tonight = ShiftsOf(person, night).Where(shift => !IsBroken(Plan([shift], []), SinglePersonRules)).ToArray();
        var began = Published(person, night) is { } shift && shift.From < problem.Facts!.Now;
        return Rosters(person, night + 1)
            .SelectMany(rest => tonight.Select(shift => (ScheduledShift[])[shift, .. rest]).Concat(began ? [] : [rest]));
    }

    private IEnumerable<ScheduledShift> ShiftsOf(int person, int night)
    {
        var (window, length) = (problem.Nights[night], problem.Crew[person].BreakMinutes);
        if (Published(person, night) is { } begun && begun.From < problem.Facts!.Now)
        {
            foreach (var shift in LengthsOf(begun, window, length)) yield return shift;
            yield break;
        }
        for (var from = window.Opens; from < window.Closes; from += problem.ShiftGridMinutes)
            for (var to = from + problem.ShiftGridMinutes; to <= window.Closes; to += problem.ShiftGridMinutes)
            {
                yield return new ScheduledShift(person, night, from, to, null);
                for (var start = from; length > 0 && start + length <= to; start += problem.Grid.SlotMinutes)
                    yield return new ScheduledShift(person, night, from, to, new Span(start, start + length));
            }
    }

    private ScheduledShift? Published(int person, int night) =>
        problem.Facts?.Published.Shifts.FirstOrDefault(shift => shift.Person == person && shift.Night == night);

    /// <summary>A begun shift that is over stays. One that is not over may end at any time and have any break.</summary>
    private IEnumerable<ScheduledShift> LengthsOf(ScheduledShift begun, NightWindow window, int length)
    {
        if (begun.To <= problem.Facts!.Now) return [begun];
        return from to in Steps(window.Opens, window.Closes + problem.ShiftGridMinutes, problem.ShiftGridMinutes)
               where to > begun.From
               from breakSpan in Steps(window.Opens, length > 0 ? window.Closes : 0, problem.Grid.SlotMinutes)
                   .Select(start => (Span?)new Span(start, start + length)).Prepend(null).Append(begun.Break).Distinct()
               select begun with { To = to, Break = breakSpan };
    }

    private static IEnumerable<int> Steps(int from, int to, int step)
    {
        for (var minute = from; minute <= to; minute += step) yield return minute;
    }

    private List<ScheduledWork> PlacementsOf(Stint stint)
    {
        if (problem.Facts?.BegunWork[stint.Index] is { } begun) return [begun];
        var works = new List<ScheduledWork>();
        for (var night = 0; night < problem.Nights.Count; night++)
            for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
            {
                var timedMode = stint.Task.Modes[mode] with { Minutes = problem.MinutesOf(stint, mode) };
                works.AddRange(PlacementsOf(stint.Index, stint.Task.Zone, timedMode, mode, night));
            }
        return works;
    }

    private IEnumerable<ScheduledWork> PlacementsOf(int? stint, int zone, ActivityMode timedMode, int mode, int night)
    {
        var window = problem.Nights[night];
        Assignment[][] assignments = [.. AssignmentChoices(timedMode.RequiredSkills.SelectMany(required =>
            Enumerable.Repeat(required.Skill, required.People)).ToArray(), 0)];
        for (var from = window.Opens; from + timedMode.Minutes <= window.Closes; from += problem.Grid.SlotMinutes)
            foreach (var people in assignments)
            {
                var work = new ScheduledWork(night, stint, mode, zone, from, from + timedMode.Minutes, people);
                if (!IsBroken(Plan([], [work]), SingleWorkRules)) yield return work;
            }
    }

    /// <summary>All assignments of people to the required skills. Assignments of the same set of people count once.</summary>
    private IEnumerable<Assignment[]> AssignmentChoices(int[] skills, int position)
    {
        if (position == skills.Length) return [[]];
        return AssignmentChoices(skills, position + 1)
            .SelectMany(rest => problem.Crew.Select(person =>
                (Assignment[])[new Assignment(person.Index, skills[position]), .. rest]))
            .Where(people => people.Skip(1).All(assignment => assignment.Person != people[0].Person))
            .DistinctBy(people => string.Join(' ', people.OrderBy(assignment => assignment.Person)));
    }

    private Schedule Plan(IReadOnlyList<ScheduledShift> shifts, IReadOnlyList<ScheduledWork> works) =>
        new() { Shifts = shifts, Work = works, Keyholders = new int?[problem.Nights.Count] };

    private bool IsBroken(Schedule plan, HashSet<RuleId> rules) =>
        AllRules.InOrder.Any(rule => rules.Contains(rule.Id) && rule.Check(problem, plan).Any(breach => !breach.IsUnavoidable));
}
