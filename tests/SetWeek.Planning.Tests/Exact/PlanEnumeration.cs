using SetWeek.Model.Plans;
using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// All plans of a very small week, tried one by one with the check as the only judge. Works are tried first, judged by the
/// rules that look at works alone, then each person's shifts, judged by those that look at one person, then all together.
/// </summary>
internal sealed class PlanEnumeration
{
    private static readonly HashSet<RuleId> SingleWorkRules = [RuleId.Grid, RuleId.Window, RuleId.Ban, RuleId.Kit, RuleId.Skill, RuleId.Due, RuleId.Launch];
    private static readonly HashSet<RuleId> WorkRules =
    [
        .. SingleWorkRules,
        RuleId.Whole, RuleId.After, RuleId.Drying, RuleId.SameNight, RuleId.Equipment, RuleId.OnePlace, RuleId.ZoneRoom, RuleId.ZoneClosed, RuleId.CleanDown, RuleId.Last,
    ];

    private static readonly HashSet<RuleId> SinglePersonRules =
        [RuleId.Grid, RuleId.Window, RuleId.Availability, RuleId.OnShift, RuleId.ShiftLength, RuleId.Break, RuleId.Rest, RuleId.YoungWorker];

    private readonly Problem problem;
    private readonly IGoal[] goals;
    private readonly List<long[]> paretoFront = [];

    private PlanEnumeration(Problem problem) =>
        (this.problem, goals) = (problem, [.. problem.Goals.Select(choice => AllGoals.Of(choice.Goal))]);

    /// <summary>The best value of each goal, those above held to their best and tolerance; null where there is no plan.</summary>
    public static long[]? BestOf(Problem problem)
    {
        var all = new PlanEnumeration(problem);
        all.TryWorks();
        if (all.paretoFront.Count == 0) return null;
        var (left, best) = (all.paretoFront, new long[problem.Goals.Count]);
        for (var goal = 0; goal < best.Length; goal++)
        {
            best[goal] = left.Min(values => values[goal]);
            var most = best[goal] + best[goal] * problem.Goals[goal].TolerancePercent / 100;
            left = [.. left.Where(values => values[goal] <= most)];
        }
        return best;
    }

    /// <summary>Ways of doing each stint and of each person's shifts, multiplied: may trying all be thought of?</summary>
    public static double SizeOf(Problem problem)
    {
        var all = new PlanEnumeration(problem);
        return problem.Stints.Aggregate(1.0, (size, stint) => size * (1 + all.PlacementsOf(stint).Count))
            * problem.Crew.Aggregate(1.0, (size, person) => size * (1 + all.Rosters(person.Index, 0).Count()));
    }

    private void TryWorks()
    {
        var options = problem.Stints.Select(PlacementsOf).ToArray();
        TryStint(0, options, []);
    }

    private void TryStint(int stint, List<ScheduledWork>[] options, List<ScheduledWork> works)
    {
        if (stint == options.Length)
        {
            TryCleanDown(0, [.. problem.Zones.Where(zone => zone.CleanDown is not null)
                .SelectMany(zone => problem.Nights.Select(night => (zone, night.Index)))], works);
            return;
        }
        if (problem.Facts?.BegunWork[stint] is null) TryStint(stint + 1, options, works);
        foreach (var work in options[stint])
        {
            works.Add(work);
            TryStint(stint + 1, options, works);
            works.RemoveAt(works.Count - 1);
        }
    }

    private void TryCleanDown(int next, (IndexedZone Zone, int Night)[] places, List<ScheduledWork> works)
    {
        if (next == places.Length)
        {
            if (Breaks(Plan([], works), WorkRules)) return;
            TryShifts([.. works]);
            return;
        }
        var (zone, night) = places[next];
        if (problem.Facts?.BegunCleanDowns.FirstOrDefault(work => work.Zone == zone.Index && work.Night == night) is { } begun)
        {
            TryCleanDown(next + 1, places, [.. works, begun]);
            return;
        }
        TryCleanDown(next + 1, places, works);
        if (!works.Any(work => work.Zone == zone.Index && work.Night == night)) return;
        foreach (var work in PlacementsOf(null, zone.Index, zone.CleanDown!, 0, night))
        {
            works.Add(work);
            TryCleanDown(next + 1, places, works);
            works.RemoveAt(works.Count - 1);
        }
    }

    private void TryShifts(ScheduledWork[] works)
    {
        var rosters = new List<ScheduledShift[]>[problem.Crew.Count];
        foreach (var person in problem.Crew)
        {
            ScheduledWork[] own = [.. works.Where(work => work.Assignments.Any(assignment => assignment.Person == person.Index))
                .Select(work => work with { Assignments = [.. work.Assignments.Where(assignment => assignment.Person == person.Index)] })];
            rosters[person.Index] = [.. Rosters(person.Index, 0).Where(shifts => !Breaks(Plan(shifts, own), SinglePersonRules))];
        }
        TryCrew(0, rosters, [], works);
    }

    private void TryCrew(int person, List<ScheduledShift[]>[] rosters, List<ScheduledShift> shifts, ScheduledWork[] works)
    {
        if (person == rosters.Length)
        {
            var plan = Plan([.. shifts], works);
            long[] values = [.. goals.Select(goal => goal.Measure(problem, plan))];
            if (paretoFront.Any(known => known.Zip(values).All(pair => pair.First <= pair.Second))) return;
            if (WithKeyholders(plan, 0).All(named => Checker.Check(problem, named).Count > 0)) return;
            paretoFront.RemoveAll(known => known.Zip(values).All(pair => pair.First >= pair.Second));
            paretoFront.Add(values);
            return;
        }
        foreach (var roster in rosters[person])
        {
            shifts.AddRange(roster);
            TryCrew(person + 1, rosters, shifts, works);
            shifts.RemoveRange(shifts.Count - roster.Length, roster.Length);
        }
    }

    private IEnumerable<Schedule> WithKeyholders(Schedule plan, int night)
    {
        if (night == problem.Nights.Count) return [plan];
        var keyholders = plan.Shifts.Where(shift => shift.Night == night && problem.Crew[shift.Person].Keyholder);
        int?[] names = [null, problem.Facts?.Published.Keyholders[night], .. keyholders.Select(shift => (int?)shift.Person)];
        return names.SelectMany(name =>
        {
            var named = plan.Keyholders.Select((old, index) => index == night ? name : old);
            return WithKeyholders(plan with { Keyholders = [.. named] }, night + 1);
        });
    }

    private IEnumerable<ScheduledShift[]> Rosters(int person, int night)
    {
        if (night == problem.Nights.Count) return [[]];
        var tonight = ShiftsOf(person, night).Where(shift => !Breaks(Plan([shift], []), SinglePersonRules)).ToArray();
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
                for (var rest = from; length > 0 && rest + length <= to; rest += problem.Grid.SlotMinutes)
                    yield return new ScheduledShift(person, night, from, to, new Span(rest, rest + length));
            }
    }

    private ScheduledShift? Published(int person, int night) =>
        problem.Facts?.Published.Shifts.FirstOrDefault(shift => shift.Person == person && shift.Night == night);

    /// <summary>One that is over stays; one under way may end at any time and have any break.</summary>
    private IEnumerable<ScheduledShift> LengthsOf(ScheduledShift begun, NightWindow window, int length)
    {
        if (begun.To <= problem.Facts!.Now) return [begun];
        return from to in Steps(window.Opens, window.Closes + problem.ShiftGridMinutes, problem.ShiftGridMinutes)
               where to > begun.From
               from rest in Steps(window.Opens, length > 0 ? window.Closes : 0, problem.Grid.SlotMinutes)
                   .Select(start => (Span?)new Span(start, start + length)).Prepend(null).Append(begun.Break).Distinct()
               select begun with { To = to, Break = rest };
    }

    private static IEnumerable<int> Steps(int from, int to, int step)
    {
        for (var at = from; at <= to; at += step) yield return at;
    }

    private List<ScheduledWork> PlacementsOf(Stint stint)
    {
        if (problem.Facts?.BegunWork[stint.Index] is { } begun) return [begun];
        var works = new List<ScheduledWork>();
        for (var night = 0; night < problem.Nights.Count; night++)
            for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
            {
                var way = stint.Task.Modes[mode] with { Minutes = problem.MinutesOf(stint, mode) };
                works.AddRange(PlacementsOf(stint.Index, stint.Task.Zone, way, mode, night));
            }
        return works;
    }

    private IEnumerable<ScheduledWork> PlacementsOf(int? stint, int zone, ActivityMode way, int mode, int night)
    {
        var window = problem.Nights[night];
        Assignment[][] hands = [.. AssignmentChoices(way.RequiredSkills.SelectMany(post => Enumerable.Repeat(post.Skill, post.People)).ToArray(), 0)];
        for (var from = window.Opens; from + way.Minutes <= window.Closes; from += problem.Grid.SlotMinutes)
            foreach (var people in hands)
            {
                var work = new ScheduledWork(night, stint, mode, zone, from, from + way.Minutes, people);
                if (!Breaks(Plan([], [work]), SingleWorkRules)) yield return work;
            }
    }

    /// <summary>Anybody in any post; those alike but for the order of the posts count once.</summary>
    private IEnumerable<Assignment[]> AssignmentChoices(int[] skills, int position)
    {
        if (position == skills.Length) return [[]];
        return AssignmentChoices(skills, position + 1)
            .SelectMany(rest => problem.Crew.Select(person => (Assignment[])[new Assignment(person.Index, skills[position]), .. rest]))
            .Where(people => people.Skip(1).All(assignment => assignment.Person != people[0].Person))
            .DistinctBy(people => string.Join(' ', people.OrderBy(assignment => assignment.Person)));
    }

    private Schedule Plan(IReadOnlyList<ScheduledShift> shifts, IReadOnlyList<ScheduledWork> works) =>
        new() { Shifts = shifts, Work = works, Keyholders = new int?[problem.Nights.Count] };

    private bool Breaks(Schedule plan, HashSet<RuleId> rules) =>
        AllRules.InOrder.Any(rule => rules.Contains(rule.Id) && rule.Check(problem, plan).Any(breach => !breach.IsUnavoidable));
}
