using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Places;

/// <summary>
/// The zone-room rule: at every moment no more people are at work in a zone than it has room for. The number rises only where
/// work starts, so the check looks at each start.
/// </summary>
internal sealed class ZoneRoomRule : IRule
{
    public RuleId Id => RuleId.ZoneRoom;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var zone in problem.Zones)
        {
            if (zone.MaxPeople == Problem.Never) continue;
            var works = schedule.Work.Where(work => work.Zone == zone.Index && work.Assignments.Count > 0).ToArray();
            foreach (var start in works)
            {
                var (people, begun) = (0, true);
                foreach (var work in works)
                {
                    if (work.From > start.From || start.From >= work.To) continue;
                    people += work.Assignments.Count;
                    begun &= problem.HasBegun(work);
                }
                if (people > zone.MaxPeople)
                    yield return new Breach(Id, RulePhrases.Subject(problem, start) with { Zone = zone.Id },
                        $"At {RulePhrases.Time(problem, start.From)} {WeekPhrases.People(people)} work in {zone.Name}, which has "
                            + $"room for {zone.MaxPeople}.")
                        { IsUnavoidable = begun };
            }
        }
    }
}
