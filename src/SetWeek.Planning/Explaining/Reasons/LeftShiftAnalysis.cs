using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>What stops a stint from starting earlier, all else of the plan standing where it is.</summary>
internal static class LeftShiftAnalysis
{
    /// <returns>And the plan with the earliest start at which nothing is broken; null where there is none.</returns>
    public static (LeftShiftExplanation Here, Schedule? Open) Of(ExplanationSubject subject, Budget budget)
    {
        var problem = subject.Problem;
        if (subject.Begun)
        {
            var verb = subject.Work.To <= problem.Facts!.Now ? "It was begun" : "It has begun";
            var fact = new BlockingRule(RuleId.Frozen, RulePhrases.Subject(problem, subject.Work), $"{verb} at {RulePhrases.Time(problem, subject.Work.From)}.");
            return (new LeftShiftExplanation([fact], null, 0, null), null);
        }
        var (stopped, open) = (new List<CandidateStart>(), new List<CandidateStart>());
        foreach (var start in new EarlierStartScan(subject).NearestFirst())
        {
            (start.FeasibleSchedule is null ? stopped : open).Add(start);
            if (budget.Spent) break;
        }
        var earliest = open.Count == 0 ? null : open[^1];
        var (first, looked) = (stopped.Concat(open).Min(start => start.Minute), problem.Nights[0].Opens);
        return (new LeftShiftExplanation([.. IrreducibleCover.Of(stopped).Select(hold => hold.ToBlockingRule(problem))],
            earliest is null ? null : EarlierStartIn(subject, earliest.FeasibleSchedule!), open.Count,
            first < looked ? null : problem.Grid.TimeOf(first)), earliest?.FeasibleSchedule);
    }

    internal static EarlierStart EarlierStartIn(ExplanationSubject subject, Schedule schedule)
    {
        var problem = subject.Problem;
        var work = schedule.WorkByStint(problem)[subject.Stint.Index]!;
        return new EarlierStart(problem.Nights[work.Night].Id, problem.Grid.TimeOf(work.From),
            [.. work.Assignments.Select(assignment => new PlannedPerson(problem.Crew[assignment.Person].Id, problem.Skills[assignment.Skill]))],
            EarlierStartScan.GoalDifferences(problem, subject.Schedule, schedule));
    }
}
