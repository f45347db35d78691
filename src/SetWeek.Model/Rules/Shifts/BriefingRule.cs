using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

/// <summary>
/// The briefing rule: no work of a person starts within the first minutes of their shift. It binds no shift that has begun.
/// </summary>
internal sealed class BriefingRule : IRule
{
    public RuleId Id => RuleId.Briefing;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var shifts = schedule.ShiftsByPersonNight();
        foreach (var work in schedule.Work)
        {
            if (problem.HasBegun(work)) continue;
            foreach (var assignment in work.Assignments)
            {
                if (!shifts.TryGetValue((assignment.Person, work.Night), out var shift) || problem.HasBegun(shift)) continue;
                var (person, after) = (problem.Crew[assignment.Person], work.From - shift.From);
                // The on-shift rule reports work before the shift.
                if (after >= 0 && after < person.Briefing)
                    yield return new Breach(Id, RulePhrases.Subject(problem, work) with { Person = person.Id },
                        $"{person.Name} starts {RulePhrases.Work(problem, work).TrimEnd(',')} {RulePhrases.Duration(after)} "
                            + $"after the shift begins; the briefing takes {RulePhrases.Duration(person.Briefing)}.");
            }
        }
    }
}
