using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// Who of the crew could be on the stint at some moment, all other work standing, and what stops the others: asked of the
/// rules themselves, one person's week at a time.
/// </summary>
internal sealed class CrewRestrictions(ExplanationSubject subject, StintMove move)
{
    private static readonly IRule[] WorkingTimeRules = [.. AllRules.InOrder.Where(rule =>
        rule.Id is RuleId.Window or RuleId.Availability or RuleId.OnShift or RuleId.ShiftLength or RuleId.Break or RuleId.Rest
            or RuleId.YoungWorker or RuleId.Frozen)];

    private readonly Problem problem = subject.Problem;
    private readonly HallConditions crewing = new(subject.Problem, subject.Mode);
    private readonly Dictionary<(RuleId Rule, int Person, int Night, int Other), StartRestriction> cache = [];

    /// <summary>Has any skill that it asks for, at its level.</summary>
    public bool HasRequiredSkill(int person) => subject.Mode.RequiredSkills.Any(post => problem.Crew[person].Meets(post));

    /// <summary>Those who fill its posts, the first of the list before the later; null where they do not fill them all.</summary>
    public Assignment[]? AssignmentsOf(IReadOnlyList<int> people)
    {
        Assignment[] assignments = [.. crewing.AssignmentsOf(people).Where(assignment => assignment.Skill >= 0)];
        return assignments.Length == subject.Mode.People ? assignments : null;
    }

    /// <summary>Everything that stops one person; nothing where they could be on it.</summary>
    public IReadOnlyList<StartRestriction> RestrictionsOf(int person, int night, int from)
    {
        var span = new Span(from, from + subject.Minutes);
        var holds = subject.OtherWork
            .Where(other => other.Span.Overlaps(span) && other.Assignments.Any(assignment => assignment.Person == person))
            .Select(other => OccupiedBy(person, other)).ToList();
        if (holds.Count == 0 && IsOnShift(person, night, span) && !IsBarred(person)) return holds;
        var alone = move.PersonSchedule(person, night, from);
        var id = problem.Crew[person].Id;
        foreach (var breach in WorkingTimeRules.SelectMany(rule => rule.Check(problem, alone)))
            // The frozen rule misses everybody else in a week of one person's: only what it says of their shift counts.
            if (!breach.IsUnavoidable && breach.About.Person == id && !(breach.Rule == RuleId.Frozen && breach.About.Task is not null)) 
                holds.Add(RestrictionOf(person, night, breach));
        return holds;
    }

    private bool IsOnShift(int person, int night, Span span) => subject.Schedule.Shifts.Any(shift =>
        shift.Person == person && shift.Night == night && shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true);

    private bool IsBarred(int person) => problem.Crew[person].BarredTraits.Any(subject.Task.Traits.Contains);

    private StartRestriction OccupiedBy(int person, ScheduledWork other)
    {
        var key = (RuleId.OnePlace, person, other.Night, Array.IndexOf([.. subject.OtherWork], other));
        if (!cache.TryGetValue(key, out var hold))
            cache[key] = hold = new StartRestriction(RuleId.OnePlace, RulePhrases.Subject(problem, subject.Work) with { Person = problem.Crew[person].Id },
                $"{problem.Crew[person].Name} is at {RulePhrases.Work(problem, other).TrimEnd(',')} until {RulePhrases.Time(problem, other.To)}.")
                { By = RulePhrases.Subject(problem, other), Until = other.To };
        return hold;
    }

    /// <summary>The nearest start at which it stops the person gives the sentence.</summary>
    private StartRestriction RestrictionOf(int person, int night, Breach breach)
    {
        var key = (breach.Rule, person, night, -1);
        if (!cache.TryGetValue(key, out var hold)) cache[key] = hold = new StartRestriction(breach.Rule, breach.About, breach.Sentence);
        return hold;
    }
}
