using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

/// <summary>
/// The company rule: at every moment of a stint of a task with the trait, enough people, its own included, are at work in its
/// zone.
/// </summary>
internal sealed class CompanyRule : IRule
{
    public RuleId Id => RuleId.Company;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint || problem.Stints[stint].Task.Company is not { } company) continue;
            foreach (var (moment, people) in PeopleInZone(schedule, work))
            {
                if (people >= company.People) continue;
                yield return new Breach(Id, RulePhrases.Subject(problem, work) with { Zone = problem.Zones[work.Zone].Id },
                    $"{RulePhrases.Work(problem, work).TrimEnd(',')} is {company.Trait} work, "
                        + $"which needs {company.People} people at work in {problem.Zones[work.Zone].Name}; "
                        + $"from {RulePhrases.Time(problem, moment)} "
                        + (people == 1 ? "1 is." : $"{people} are."))
                    { IsUnavoidable = problem.HasBegun(work) };
                break;
            }
        }
    }

    /// <summary>
    /// How many people are at work in the zone of a piece of work at its start, and at each moment of it when their number may
    /// fall: where other work ends. In order of time.
    /// </summary>
    internal static IEnumerable<(int Moment, int People)> PeopleInZone(Schedule schedule, ScheduledWork work)
    {
        var inZone = schedule.Work.Where(other => other.Zone == work.Zone && other.Span.Overlaps(work.Span)).ToArray();
        return inZone.Select(other => other.To).Where(end => work.From < end && end < work.To).Append(work.From)
            .Distinct().Order().Select(moment => (moment, inZone.Where(other => other.From <= moment && moment < other.To)
                .Sum(other => other.Assignments.Count)));
    }
}
