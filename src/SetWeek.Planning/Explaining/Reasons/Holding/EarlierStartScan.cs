using SetWeek.Model.Checking;
using SetWeek.Model.Comparing;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>An earlier start that is looked at.</summary>
/// <param name="BlockingSets">Sets of instances, each of which alone would do to bar it.</param>
/// <param name="FeasibleSchedule">The plan with it, where it is not barred.</param>
internal sealed record CandidateStart(int Night, int Minute, IReadOnlyList<IReadOnlyList<StartRestriction>> BlockingSets, Schedule? FeasibleSchedule);

/// <summary>
/// Every start of a stint that is earlier than its own, nearest first, and what bars it. A moment between two nights stands
/// for all of that day.
/// </summary>
internal sealed class EarlierStartScan
{
    /// <summary>Two tries of people can be stopped by some instances each; no more pairs of them are looked at.</summary>
    private const int MaxPairs = 12;

    private readonly ExplanationSubject subject;
    private readonly Problem problem;
    private readonly StartRestriction[] workRestrictions;
    private readonly StintMove move;
    private readonly CrewRestrictions crewRestrictions;
    private readonly HashSet<Breach> existingBreaches;
    private readonly Dictionary<(RuleId, RuleSubject), StartRestriction> restrictionsByBreach = [];

    public EarlierStartScan(ExplanationSubject subject)
    {
        (this.subject, problem, move) = (subject, subject.Problem, new StintMove(subject));
        workRestrictions = [.. PrecedenceRestrictions.Of(subject), .. CalendarRestrictions.Of(subject), .. ResourceRestrictions.Of(subject)];
        crewRestrictions = new CrewRestrictions(subject, move);
        existingBreaches = [.. Checker.Check(problem, subject.Schedule)];
    }

    public IEnumerable<CandidateStart> NearestFirst()
    {
        for (var night = subject.Work.Night; night >= 0; night--)
        {
            var window = problem.Nights[night];
            var last = Math.Min(window.Closes - subject.Minutes, subject.Work.From - 1);
            for (var steps = (last - window.Opens) / problem.Grid.SlotMinutes; last >= window.Opens && steps >= 0; steps--)
                yield return Evaluate(night, window.Opens + steps * problem.Grid.SlotMinutes);
            yield return DaytimeBefore(night);
        }
    }

    /// <summary>From the last start of the night before, or from ever, until the night opens.</summary>
    private CandidateStart DaytimeBefore(int night)
    {
        var from = night == 0 ? -Problem.Never : problem.Nights[night - 1].Closes - subject.Minutes + 1;
        var to = problem.Nights[night].Opens;
        return new CandidateStart(night, to - problem.Grid.SlotMinutes,
            [.. workRestrictions.Where(hold => hold.ForbidsAll(new(from, to))).Select(hold => (IReadOnlyList<StartRestriction>)[hold])], null);
    }

    private CandidateStart Evaluate(int night, int minute)
    {
        StartRestriction[] bars = [.. workRestrictions.Where(hold => hold.Forbids(minute))];
        if (bars.Length > 0) return new CandidateStart(night, minute, [.. bars.Select(hold => (IReadOnlyList<StartRestriction>)[hold])], null);
        var stops = new List<IReadOnlyList<IReadOnlyList<StartRestriction>>>();
        foreach (var tried in CrewAlternatives(night, minute))
        {
            var plan = move.To(night, minute, tried.Crew ?? []);
            IReadOnlyList<IReadOnlyList<StartRestriction>> stopped = tried.Crew is null ? [tried.Missing] : [.. NewBreaches(plan, night, minute)];
            if (stopped.Count == 0) return new CandidateStart(night, minute, [], plan);
            stops.Add(stopped);
        }
        return new CandidateStart(night, minute, stops.Count == 1 ? stops[0] : [.. stops[0].SelectMany(one => stops[1]
            .Select(other => (IReadOnlyList<StartRestriction>)[.. one.Union(other)])).Take(MaxPairs)], null);
    }

    /// <summary>
    /// Its own people where they can, others who can beside them; then those who are on shift anyway before its own.
    /// </summary>
    private IEnumerable<(Assignment[]? Crew, IReadOnlyList<StartRestriction> Missing)> CrewAlternatives(int night, int minute)
    {
        var span = new Span(minute, minute + subject.Minutes);
        var own = subject.Work.Assignments.Select(assignment => assignment.Person).ToHashSet();
        var stopped = problem.Crew.Where(person => crewRestrictions.HasRequiredSkill(person.Index))
            .ToDictionary(person => person.Index, person => crewRestrictions.RestrictionsOf(person.Index, night, minute));
        int[] free = [.. stopped.Where(one => one.Value.Count == 0).Select(one => one.Key)
            .OrderBy(person => own.Contains(person) ? 0 : IsOn(person) ? 1 : 2).ThenBy(person => person)];
        var first = crewRestrictions.AssignmentsOf(free);
        yield return (first, first is null ? MissingPeople(stopped, free, own) : []);
        if (first is null) yield break;
        var second = crewRestrictions.AssignmentsOf([.. free.OrderBy(person => IsOn(person) ? 0 : 1)]);
        if (second is not null && !second.Select(assignment => assignment.Person).ToHashSet().SetEquals(first.Select(assignment => assignment.Person)))
            yield return (second, []);

        bool IsOn(int person) => subject.Schedule.Shifts.Any(shift =>
            shift.Person == person && shift.Night == night && shift.Span.Contains(span));
    }

    /// <summary>An instance for each of those who are missed, and for none whom it would go without.</summary>
    private List<StartRestriction> MissingPeople(Dictionary<int, IReadOnlyList<StartRestriction>> restrictionsByPerson, int[] free, HashSet<int> own)
    {
        var missed = restrictionsByPerson.Keys.Where(person => restrictionsByPerson[person].Count > 0)
            .OrderBy(person => own.Contains(person) ? 0 : 1).ToList();
        foreach (var person in missed.AsEnumerable().Reverse().ToArray())
        {
            // Whoever is left out of this is taken as free: does it still not do?
            int[] others = [.. free, .. restrictionsByPerson.Keys.Where(one => !missed.Contains(one) && restrictionsByPerson[one].Count > 0), person];
            if (crewRestrictions.AssignmentsOf(others) is null) missed.Remove(person);
        }
        return missed.Count == 0
            ? [RestrictionOf(new Breach(RuleId.Skill, RulePhrases.Subject(problem, subject.Work),
                "Too few of the crew have the skills that it asks for."))]
            : [.. missed.Select(person => restrictionsByPerson[person][0])];
    }

    /// <summary>What the whole plan breaks then and does not break now: each instance alone would do.</summary>
    private IEnumerable<IReadOnlyList<StartRestriction>> NewBreaches(Schedule schedule, int night, int minute)
    {
        foreach (var breach in Checker.Check(problem, schedule))
        {
            if (existingBreaches.Contains(breach)) continue;
            var hold = RestrictionOf(breach);
            var keyholder = subject.Schedule.Keyholders[night] is { } index ? problem.Crew[index] : null;
            yield return keyholder is not null && breach.About.Person == keyholder.Id && breach.About.Task is null
                && !subject.Schedule.Shifts.Any(shift => shift.Night == night && shift.Person == keyholder.Index
                    && shift.From <= minute - (problem.Rules.OpeningMinutes ?? 0)) && problem.Rules.OpeningMinutes > 0
                ? [hold, OpeningRestriction(keyholder, night)] : [hold];
        }
    }

    private StartRestriction RestrictionOf(Breach breach)
    {
        if (!restrictionsByBreach.TryGetValue((breach.Rule, breach.About), out var hold))
            restrictionsByBreach[(breach.Rule, breach.About)] = hold = new StartRestriction(breach.Rule, breach.About, breach.Sentence);
        return hold;
    }

    private StartRestriction OpeningRestriction(Person keyholder, int night) => RestrictionOf(new Breach(RuleId.OpenClose,
        new RuleSubject { Night = problem.Nights[night].Id, Person = keyholder.Id },
        $"{keyholder.Name} opens up {RulePhrases.Duration(problem.Rules.OpeningMinutes!.Value)} before the night's first work."));

    /// <summary>By goal asked: what it is, and what it would be.</summary>
    public static IReadOnlyList<GoalDifference> GoalDifferences(Problem problem, Schedule now, Schedule then) =>
        [.. from choice in problem.Goals
            let goal = AllGoals.Of(choice.Goal)
            select new GoalDifference(choice.Goal, goal.Measure(problem, now), goal.Measure(problem, then))];
}
