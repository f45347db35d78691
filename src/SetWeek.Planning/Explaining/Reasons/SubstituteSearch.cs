using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Finds who could replace each person of a stint. A plain exchange of two people is checked against the rules. The CP-SAT model
/// then decides whether it is possible with other shifts and other people on the night's other work.
/// </summary>
internal static class SubstituteSearch
{
    public static IReadOnlyList<AssignmentExplanation> Of(ExplanationSubject subject, Budget budget)
    {
        var problem = subject.Problem;
        var (move, existingBreaches) = (new StintMove(subject), Checker.Check(problem, subject.Schedule).ToHashSet());
        var restrictions = new CrewRestrictions(subject, move);
        var exchanges = (from assignment in subject.Work.Assignments
                         from other in problem.Crew
                         where !subject.Work.Assignments.Any(assigned => assigned.Person == other.Index)
                         select ExchangeOf(subject, assignment, other, move, restrictions, existingBreaches)).ToArray();
        // Exchanges that are already feasible come first, because time may run out.
        var (substitutes, shiftWindows) = (new Dictionary<PersonExchange, Substitute>(), new CrewShiftWindows(problem));
        PersonExchange[] ordered = [.. exchanges.OrderBy(exchange => exchange.Schedule is null ? 1 : 0)];
        foreach (var (index, exchange) in ordered.Index())
        {
            var part = budget.CreateChild(budget.Remaining / (ordered.Length - index));
            substitutes[exchange] = SubstituteOf(subject, exchange, shiftWindows, part);
            budget.Charge(part.Used);
        }
        return [.. subject.Work.Assignments.Select(assignment => new AssignmentExplanation(
            problem.Crew[assignment.Person].Id, problem.Skills[assignment.Skill],
            [.. exchanges.Where(exchange => exchange.Assignment == assignment).Select(exchange => substitutes[exchange])]))];
    }

    /// <summary>
    /// A person in another's place. The schedule is a feasible plan with the exchange, or with a swap of the two people; null
    /// if none is known.
    /// </summary>
    private sealed record PersonExchange(
        Assignment Assignment, Person Other, bool HasSkill, IReadOnlyList<StartRestriction> Restrictions, Schedule? Schedule);

    private static PersonExchange ExchangeOf(ExplanationSubject subject, Assignment assignment, Person other, StintMove move,
        CrewRestrictions restrictions, HashSet<Breach> existingBreaches)
    {
        var (problem, work) = (subject.Problem, subject.Work);
        int[] people = [.. work.Assignments.Where(kept => kept != assignment).Select(kept => kept.Person), other.Index];
        if (restrictions.AssignmentsOf(people) is not { } crew)
            return new PersonExchange(assignment, other, false, [MissingSkill(subject, assignment, other)], null);
        var blocking = restrictions.RestrictionsOf(other.Index, work.Night, work.From);
        if (blocking.Count > 0)
            return new PersonExchange(
                assignment, other, true, blocking, IfFeasible(PersonSwap.Of(subject, assignment.Person, other.Index)));
        var plan = move.To(work.Night, work.From, crew);
        StartRestriction[] broken = [.. Checker.Check(problem, plan).Where(breach => !existingBreaches.Contains(breach))
            .Select(breach => new StartRestriction(breach.Rule, breach.About, breach.Sentence))];
        return new PersonExchange(assignment, other, true, broken, broken.Length == 0 ? plan : null);

        Schedule? IfFeasible(Schedule? swapped) =>
            swapped is not null && Checker.Check(problem, swapped).All(existingBreaches.Contains) ? swapped : null;
    }

    private static StartRestriction MissingSkill(ExplanationSubject subject, Assignment assignment, Person other)
    {
        var problem = subject.Problem;
        var requiredLevel = subject.Mode.RequiredSkills
            .Where(requirement => requirement.Skill == assignment.Skill).Min(requirement => requirement.Level);
        var (skill, level) = (problem.Skills[assignment.Skill], other.Levels[assignment.Skill]);
        return new StartRestriction(RuleId.Skill,
            RulePhrases.Subject(problem, subject.Work) with { Person = other.Id, Skill = skill },
            level == 0 ? $"{other.Name} does not have the skill “{skill}”."
                : $"{other.Name} has “{skill}” at level {level}, and level {Math.Max(requiredLevel, level + 1)} is needed.");
    }

    /// <summary>True if some shift of the person could cover the work, and the work is not barred to them.</summary>
    private static bool CouldBeOnShift(ExplanationSubject subject, Person other, CrewShiftWindows shiftWindows) =>
        shiftWindows.WindowsOf(other.Index, subject.Work.Night)
            .Any(window => window.EarliestStart <= subject.Work.From && subject.Work.To <= window.LatestEnd)
        && !other.BarredTraits.Any(subject.Task.Traits.Contains);

    private static Substitute SubstituteOf(
        ExplanationSubject subject, PersonExchange exchange, CrewShiftWindows shiftWindows, Budget budget)
    {
        var problem = subject.Problem;
        IReadOnlyList<BlockingRule> blocking = [.. exchange.Restrictions
            .Select(restriction => restriction.ToBlockingRule(problem)).DistinctBy(rule => rule.Sentence)];
        if (!exchange.HasSkill || !CouldBeOnShift(subject, exchange.Other, shiftWindows))
            return new Substitute(exchange.Other.Id, blocking, null, false, true);
        var nights = problem.Nights.Select(night => night.Index == subject.Work.Night).ToArray();
        var trial = ConstrainedOptimum.Of(problem, Neighbourhood.Roster(problem, subject.Schedule, nights), model =>
        {
            var activity = model.Activities[subject.Stint.Index];
            model.FixFalse(activity.HasPerson[exchange.Assignment.Person]);
            model.FixTrue(activity.HasPerson[exchange.Other.Index]);
        }, exchange.Schedule is { } plan ? [plan] : [], budget);
        return new Substitute(exchange.Other.Id, blocking,
            trial.Schedule is null ? null : EarlierStartScan.GoalDifferences(problem, subject.Schedule, trial.Schedule),
            trial.Schedule is not null
                && (exchange.Restrictions.Count > 0 || !ReferenceEquals(trial.Schedule, exchange.Schedule)), trial.Proven);
    }
}
