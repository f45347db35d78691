using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Finds what stops each person from being on the stint at a given time while all other work stays as it is. The rules check a
/// schedule that has only that person's work.
/// </summary>
internal sealed class CrewRestrictions(ExplanationSubject subject, StintMove move)
{
    private static readonly IRule[] WorkingTimeRules = [.. AllRules.InOrder.Where(rule =>
        rule.Id is RuleId.Window or RuleId.Availability or RuleId.OnShift or RuleId.ShiftLength or RuleId.Break or RuleId.Briefing
            or RuleId.Rest or RuleId.YoungWorker or RuleId.Frozen)];

    private readonly Problem problem = subject.Problem;
    private readonly HallConditions hallConditions = new(subject.Problem, subject.Mode);
    private readonly Dictionary<(RuleId Rule, int Person, int Night, int Other), StartRestriction> cache = [];

    /// <summary>True if the person has one of the skills that the stint requires, at the required level.</summary>
    public bool HasRequiredSkill(int person) =>
        subject.Mode.RequiredSkills.Any(requirement => problem.Crew[person].Meets(requirement));

    /// <summary>
    /// Assigns people to the required skills, preferring those early in the list; null if a position stays empty.
    /// </summary>
    public Assignment[]? AssignmentsOf(IReadOnlyList<int> people)
    {
        Assignment[] assignments = [.. hallConditions.AssignmentsOf(people).Where(assignment => assignment.Skill >= 0)];
        return assignments.Length == subject.Mode.People ? assignments : null;
    }

    /// <summary>All that stops a person from being on the stint; empty if nothing does.</summary>
    public IReadOnlyList<StartRestriction> RestrictionsOf(int person, int night, int from)
    {
        var span = new Span(from, from + subject.Minutes);
        var restrictions = subject.OtherWork
            .Where(other => other.Span.Overlaps(span) && other.Assignments.Any(assignment => assignment.Person == person))
            .Select(other => OccupiedBy(person, other)).ToList();
        if (restrictions.Count == 0 && IsOnShift(person, night, span) && !IsBarred(person)
            && problem.Crew[person] is { BreakAfter: Problem.Never, Briefing: 0 }) return restrictions;
        var ownSchedule = move.PersonSchedule(person, night, from);
        var id = problem.Crew[person].Id;
        foreach (var breach in WorkingTimeRules.SelectMany(rule => rule.Check(problem, ownSchedule)))
            // The schedule lacks the work of all others, which breaks the frozen rule. Only its breaches on the shift count.
            if (!breach.IsUnavoidable && breach.About.Person == id
                && !(breach.Rule == RuleId.Frozen && breach.About.Task is not null))
                restrictions.Add(RestrictionOf(person, night, breach));
        return restrictions;
    }

    private bool IsOnShift(int person, int night, Span span) => subject.Schedule.Shifts.Any(shift =>
        shift.Person == person && shift.Night == night && shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true);

    private bool IsBarred(int person) => problem.Crew[person].BarredTraits.Any(subject.Task.Traits.Contains);

    private StartRestriction OccupiedBy(int person, ScheduledWork other)
    {
        var key = (RuleId.OnePlace, person, other.Night, Array.IndexOf([.. subject.OtherWork], other));
        if (!cache.TryGetValue(key, out var restriction))
            cache[key] = restriction = new StartRestriction(RuleId.OnePlace,
                RulePhrases.Subject(problem, subject.Work) with { Person = problem.Crew[person].Id },
                $"{problem.Crew[person].Name} works on {RulePhrases.Work(problem, other).TrimEnd(',')} until "
                    + $"{RulePhrases.Time(problem, other.To)}.")
                { By = RulePhrases.Subject(problem, other), Until = other.To };
        return restriction;
    }

    /// <summary>One restriction for each rule, person and night; its sentence is that of the first start examined.</summary>
    private StartRestriction RestrictionOf(int person, int night, Breach breach)
    {
        var key = (breach.Rule, person, night, -1);
        if (!cache.TryGetValue(key, out var restriction))
            cache[key] = restriction = new StartRestriction(breach.Rule, breach.About, breach.Sentence);
        return restriction;
    }
}
