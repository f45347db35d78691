using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Who else could be in the place of each person of a stint: by exchanging the two and nothing else, asked of the check; and
/// with the night's shifts, and the people of its other work, arranged anew around it, by solving.
/// </summary>
internal static class SubstituteSearch
{
    public static IReadOnlyList<AssignmentExplanation> Of(ExplanationSubject subject, Budget budget)
    {
        var problem = subject.Problem;
        var (move, before) = (new StintMove(subject), Checker.Check(problem, subject.Schedule).ToHashSet());
        var people = new CrewRestrictions(subject, move);
        var exchanges = (from hand in subject.Work.Assignments
                         from other in problem.Crew
                         where !subject.Work.Assignments.Any(one => one.Person == other.Index)
                         select ExchangeOf(subject, hand, other, move, people, before)).ToArray();
        // Whoever could come as things stand is asked about first; the time may not do for all.
        var (answers, rooms) = (new Dictionary<PersonExchange, Substitute>(), new CrewShiftWindows(problem));
        PersonExchange[] inTurn = [.. exchanges.OrderBy(one => one.Schedule is null ? 1 : 0)];
        foreach (var (at, exchange) in inTurn.Index())
        {
            var part = budget.CreateChild(budget.Remaining / (inTurn.Length - at));
            answers[exchange] = SubstituteOf(subject, exchange, rooms, part);
            budget.Charge(part.Used);
        }
        return [.. subject.Work.Assignments.Select(assignment => new AssignmentExplanation(problem.Crew[assignment.Person].Id, problem.Skills[assignment.Skill],
            [.. exchanges.Where(one => one.Assignment == assignment).Select(one => answers[one])]))];
    }

    /// <summary>
    /// Somebody in another's place, and a plan, of an exchange or a change of places, where nothing stops that.
    /// </summary>
    private sealed record PersonExchange(Assignment Assignment, Person Other, bool HasSkill, IReadOnlyList<StartRestriction> Restrictions, Schedule? Schedule);

    private static PersonExchange ExchangeOf(ExplanationSubject subject, Assignment assignment, Person other, StintMove move,
        CrewRestrictions restrictions, HashSet<Breach> existingBreaches)
    {
        var (problem, work) = (subject.Problem, subject.Work);
        int[] then = [.. work.Assignments.Where(one => one != assignment).Select(one => one.Person), other.Index];
        if (restrictions.AssignmentsOf(then) is not { } crew)
            return new PersonExchange(assignment, other, false, [MissingSkill(subject, assignment, other)], null);
        var holds = restrictions.RestrictionsOf(other.Index, work.Night, work.From);
        if (holds.Count > 0) return new PersonExchange(assignment, other, true, holds, Unbroken(PersonSwap.Of(subject, assignment.Person, other.Index)));
        var plan = move.To(work.Night, work.From, crew);
        StartRestriction[] broken = [.. Checker.Check(problem, plan).Where(breach => !existingBreaches.Contains(breach))
            .Select(breach => new StartRestriction(breach.Rule, breach.About, breach.Sentence))];
        return new PersonExchange(assignment, other, true, broken, broken.Length == 0 ? plan : null);

        Schedule? Unbroken(Schedule? swapped) =>
            swapped is not null && Checker.Check(problem, swapped).All(existingBreaches.Contains) ? swapped : null;
    }

    private static StartRestriction MissingSkill(ExplanationSubject subject, Assignment assignment, Person other)
    {
        var problem = subject.Problem;
        var level = subject.Mode.RequiredSkills.Where(post => post.Skill == assignment.Skill).Min(post => post.Level);
        var (skill, has) = (problem.Skills[assignment.Skill], other.Levels[assignment.Skill]);
        return new StartRestriction(RuleId.Skill, RulePhrases.Subject(problem, subject.Work) with { Person = other.Id, Skill = skill },
            has == 0 ? $"{other.Name} does not have the skill “{skill}”."
                : $"{other.Name} has “{skill}” at level {has}, and level {Math.Max(level, has + 1)} is wanted.");
    }

    /// <summary>Whatever else is planned, a shift of theirs may lie over the work, and the work is not barred to them.</summary>
    private static bool CouldBeOnShift(ExplanationSubject subject, Person other, CrewShiftWindows shiftWindows) =>
        shiftWindows.WindowsOf(other.Index, subject.Work.Night).Any(room => room.EarliestStart <= subject.Work.From && subject.Work.To <= room.LatestEnd)
        && !other.BarredTraits.Any(subject.Task.Traits.Contains);

    private static Substitute SubstituteOf(ExplanationSubject subject, PersonExchange exchange, CrewShiftWindows shiftWindows, Budget budget)
    {
        var problem = subject.Problem;
        IReadOnlyList<BlockingRule> stopped = [.. exchange.Restrictions.Select(hold => hold.ToBlockingRule(problem)).DistinctBy(held => held.Sentence)];
        if (!exchange.HasSkill || !CouldBeOnShift(subject, exchange.Other, shiftWindows))
            return new Substitute(exchange.Other.Id, stopped, null, false, true);
        var nights = problem.Nights.Select(night => night.Index == subject.Work.Night).ToArray();
        var trial = ConstrainedOptimum.Of(problem, Neighbourhood.Roster(problem, subject.Schedule, nights), model =>
        {
            var activity = model.Activities[subject.Stint.Index];
            model.FixFalse(activity.HasPerson[exchange.Assignment.Person]);
            model.FixTrue(activity.HasPerson[exchange.Other.Index]);
        }, exchange.Schedule is { } plan ? [plan] : [], budget);
        return new Substitute(exchange.Other.Id, stopped,
            trial.Schedule is null ? null : EarlierStartScan.GoalDifferences(problem, subject.Schedule, trial.Schedule),
            trial.Schedule is not null && (exchange.Restrictions.Count > 0 || !ReferenceEquals(trial.Schedule, exchange.Schedule)), trial.Proven);
    }
}
