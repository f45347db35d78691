using SetWeek.Model.Checking;
using SetWeek.Model.Comparing;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>An earlier start of the stint that was examined.</summary>
/// <param name="Night">The index of the night.</param>
/// <param name="Minute">The start.</param>
/// <param name="BlockingSets">Sets of rule instances; each set alone blocks the start.</param>
/// <param name="FeasibleSchedule">The plan with this start; null if the start is blocked.</param>
internal sealed record CandidateStart(
    int Night, int Minute, IReadOnlyList<IReadOnlyList<StartRestriction>> BlockingSets, Schedule? FeasibleSchedule);

/// <summary>
/// Examines all starts of a stint that are earlier than its own, nearest first, and finds what blocks each. One start between two
/// nights stands for all of that daytime.
/// </summary>
internal sealed class EarlierStartScan
{
    /// <summary>
    /// With two crews, a start is blocked by pairs of instances, one for each crew; more pairs are not examined.
    /// </summary>
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
        workRestrictions =
        [
            .. PrecedenceRestrictions.Of(subject), .. CalendarRestrictions.Of(subject), .. ResourceRestrictions.Of(subject),
        ];
        crewRestrictions = new CrewRestrictions(subject, move);
        existingBreaches = [.. Checker.Check(problem, subject.Schedule)];
    }

    /// <summary>The earlier starts, examined lazily.</summary>
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

    /// <summary>The daytime from the last start of the night before, if there is one, until the night opens.</summary>
    private CandidateStart DaytimeBefore(int night)
    {
        var from = night == 0 ? -Problem.Never : problem.Nights[night - 1].Closes - subject.Minutes + 1;
        var to = problem.Nights[night].Opens;
        return new CandidateStart(night, to - problem.Grid.SlotMinutes,
            [.. workRestrictions.Where(restriction => restriction.ForbidsAll(new(from, to)))
                .Select(restriction => (IReadOnlyList<StartRestriction>)[restriction])], null);
    }

    private CandidateStart Evaluate(int night, int minute)
    {
        StartRestriction[] forbidding = [.. workRestrictions.Where(restriction => restriction.Forbids(minute))];
        if (forbidding.Length > 0)
            return new CandidateStart(night, minute,
                [.. forbidding.Select(restriction => (IReadOnlyList<StartRestriction>)[restriction])], null);
        var setsByCrew = new List<IReadOnlyList<IReadOnlyList<StartRestriction>>>();
        foreach (var alternative in CrewAlternatives(night, minute))
        {
            var plan = move.To(night, minute, alternative.Crew ?? []);
            IReadOnlyList<IReadOnlyList<StartRestriction>> blockingSets =
                alternative.Crew is null ? [alternative.Missing] : [.. NewBreaches(plan, night, minute)];
            if (blockingSets.Count == 0) return new CandidateStart(night, minute, [], plan);
            setsByCrew.Add(blockingSets);
        }
        return new CandidateStart(night, minute, setsByCrew.Count == 1 ? setsByCrew[0]
            : [.. setsByCrew[0].SelectMany(first => setsByCrew[1]
                .Select(second => (IReadOnlyList<StartRestriction>)[.. first.Union(second)])).Take(MaxPairs)], null);
    }

    /// <summary>
    /// At most two crews to try. The first prefers the stint's own people, the second people who are on shift anyway. If no
    /// crew is possible, the restrictions of the missing people are returned instead.
    /// </summary>
    private IEnumerable<(Assignment[]? Crew, IReadOnlyList<StartRestriction> Missing)> CrewAlternatives(int night, int minute)
    {
        var span = new Span(minute, minute + subject.Minutes);
        var own = subject.Work.Assignments.Select(assignment => assignment.Person).ToHashSet();
        var restrictionsByPerson = problem.Crew.Where(person => crewRestrictions.HasRequiredSkill(person.Index))
            .ToDictionary(person => person.Index, person => crewRestrictions.RestrictionsOf(person.Index, night, minute));
        int[] free = [.. restrictionsByPerson.Where(entry => entry.Value.Count == 0).Select(entry => entry.Key)
            .OrderBy(person => own.Contains(person) ? 0 : IsOnShift(person) ? 1 : 2).ThenBy(person => person)];
        var first = crewRestrictions.AssignmentsOf(free);
        yield return (first, first is null ? MissingPeople(restrictionsByPerson, free, own) : []);
        if (first is null) yield break;
        var second = crewRestrictions.AssignmentsOf([.. free.OrderBy(person => IsOnShift(person) ? 0 : 1)]);
        if (second is not null && !PeopleOf(second).SetEquals(PeopleOf(first))) yield return (second, []);

        HashSet<int> PeopleOf(Assignment[] crew) => [.. crew.Select(assignment => assignment.Person)];

        bool IsOnShift(int person) => subject.Schedule.Shifts.Any(shift =>
            shift.Person == person && shift.Night == night && shift.Span.Contains(span));
    }

    /// <summary>
    /// One restriction for each person who is missing; a person whom the stint could do without is not missing.
    /// </summary>
    private List<StartRestriction> MissingPeople(
        Dictionary<int, IReadOnlyList<StartRestriction>> restrictionsByPerson, int[] free, HashSet<int> own)
    {
        var missing = restrictionsByPerson.Keys.Where(person => restrictionsByPerson[person].Count > 0)
            .OrderBy(person => own.Contains(person) ? 0 : 1).ToList();
        foreach (var person in missing.AsEnumerable().Reverse().ToArray())
        {
            // If this person and all who were removed before were free, would the crew still be incomplete?
            int[] available =
            [
                .. free,
                .. restrictionsByPerson.Keys.Where(other => !missing.Contains(other) && restrictionsByPerson[other].Count > 0),
                person,
            ];
            if (crewRestrictions.AssignmentsOf(available) is null) missing.Remove(person);
        }
        return missing.Count == 0
            ? [RestrictionOf(new Breach(RuleId.Skill, RulePhrases.Subject(problem, subject.Work),
                "Too few people of the crew have the skills that it needs."))]
            : [.. missing.Select(person => restrictionsByPerson[person][0])];
    }

    /// <summary>The breaches of the moved plan that the current plan does not have; each alone blocks the start.</summary>
    private IEnumerable<IReadOnlyList<StartRestriction>> NewBreaches(Schedule schedule, int night, int minute)
    {
        foreach (var breach in Checker.Check(problem, schedule))
        {
            if (existingBreaches.Contains(breach)) continue;
            var restriction = RestrictionOf(breach);
            var keyholder = subject.Schedule.Keyholders[night] is { } index ? problem.Crew[index] : null;
            yield return problem.Rules is { KeyholderPresent: true, OpeningMinutes: { } opening and > 0 }
                && keyholder is not null && breach.About.Person == keyholder.Id && breach.About.Task is null
                && !subject.Schedule.Shifts.Any(shift => shift.Night == night && shift.Person == keyholder.Index
                    && shift.From <= minute - opening)
                ? [restriction, OpeningRestriction(keyholder, night)] : [restriction];
        }
    }

    private StartRestriction RestrictionOf(Breach breach)
    {
        if (!restrictionsByBreach.TryGetValue((breach.Rule, breach.About), out var restriction))
            restrictionsByBreach[(breach.Rule, breach.About)] = restriction =
                new StartRestriction(breach.Rule, breach.About, breach.Sentence);
        return restriction;
    }

    private StartRestriction OpeningRestriction(Person keyholder, int night) => RestrictionOf(new Breach(RuleId.OpenClose,
        new RuleSubject { Night = problem.Nights[night].Id, Person = keyholder.Id },
        $"{keyholder.Name} opens up {RulePhrases.Duration(problem.Rules.OpeningMinutes!.Value)} before the night's first work."));

    /// <summary>The week's goals in the current plan and in another one.</summary>
    public static IReadOnlyList<GoalDifference> GoalDifferences(Problem problem, Schedule current, Schedule other) =>
        [.. from choice in problem.Goals
            let goal = AllGoals.Of(choice.Goal)
            select new GoalDifference(choice.Goal, goal.Measure(problem, current), goal.Measure(problem, other))];
}
