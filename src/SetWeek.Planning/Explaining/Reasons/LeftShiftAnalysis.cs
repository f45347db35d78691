using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>Finds what stops a stint from starting earlier while the rest of the plan stays as it is.</summary>
internal static class LeftShiftAnalysis
{
    /// <returns>The explanation, and the plan with the earliest start that breaks no rule; null if there is none.</returns>
    public static (LeftShiftExplanation Here, Schedule? Open) Of(ExplanationSubject subject, Budget budget)
    {
        var problem = subject.Problem;
        if (subject.Begun)
        {
            var verb = subject.Work.To <= problem.Facts!.Now ? "It was begun" : "It has begun";
            var fact = new BlockingRule(RuleId.Frozen, RulePhrases.Subject(problem, subject.Work),
                $"{verb} at {RulePhrases.Time(problem, subject.Work.From)}.");
            return (new LeftShiftExplanation([fact], null, 0, null), null);
        }
        var (blocked, open) = (new List<CandidateStart>(), new List<CandidateStart>());
        foreach (var start in new EarlierStartScan(subject).NearestFirst())
        {
            (start.FeasibleSchedule is null ? blocked : open).Add(start);
            if (budget.Spent) break;
        }
        var earliest = open.Count == 0 ? null : open[^1];
        var (firstExamined, firstPossible) = (blocked.Concat(open).Min(start => start.Minute), problem.Nights[0].Opens);
        return (new LeftShiftExplanation(
            [.. IrreducibleCover.Of(blocked).Select(restriction => restriction.ToBlockingRule(problem))],
            earliest is null ? null : EarlierStartIn(subject, earliest.FeasibleSchedule!), open.Count,
            firstExamined < firstPossible ? null : problem.Grid.TimeOf(firstExamined)), earliest?.FeasibleSchedule);
    }

    /// <summary>The stint's night, start and people in another schedule, and the goals that differ.</summary>
    internal static EarlierStart EarlierStartIn(ExplanationSubject subject, Schedule schedule)
    {
        var problem = subject.Problem;
        var work = schedule.WorkByStint(problem)[subject.Stint.Index]!;
        return new EarlierStart(problem.Nights[work.Night].Id, problem.Grid.TimeOf(work.From),
            [.. work.Assignments.Select(assignment =>
                new PlannedPerson(problem.Crew[assignment.Person].Id, problem.Skills[assignment.Skill]))],
            EarlierStartScan.GoalDifferences(problem, subject.Schedule, schedule));
    }
}
