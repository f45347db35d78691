using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

/// <summary>
/// The young-worker rule: a shift of a person under 18 ends by the latest time set, and the person works on no task with a
/// barred trait. Everybody reads the plan, so the sentences say what holds for the person, and not the age.
/// </summary>
internal sealed class YoungWorkerRule : IRule
{
    public RuleId Id => RuleId.YoungWorker;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
            if (problem.Crew[shift.Person] is { Under18: true } person && shift.To > person.LatestShiftEnds[shift.Night])
                yield return new Breach(Id, RulePhrases.Subject(problem, shift),
                    $"{person.Name} is to be home by {RulePhrases.Time(problem, person.LatestShiftEnds[shift.Night])}, but the "
                        + $"shift ends {RulePhrases.Time(problem, shift.To)}.")
                    { IsUnavoidable = problem.EndsAtEarliest(shift) };
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint) continue;
            foreach (var assignment in work.Assignments)
                foreach (var trait in problem.Crew[assignment.Person].BarredTraits)
                    if (problem.Stints[stint].Task.Traits.Contains(trait))
                        yield return new Breach(Id,
                            RulePhrases.Subject(problem, work) with { Person = problem.Crew[assignment.Person].Id },
                            $"{problem.Crew[assignment.Person].Name} does no {trait} work, but "
                                + $"{RulePhrases.Work(problem, work)} is {trait} work.")
                            { IsUnavoidable = problem.HasBegun(work) };
        }
    }
}
