using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class ZoneRoomRule : IRule
{
    public string Id => "zone-room";

    public void Post(ExactModel model)
    {
        foreach (var zone in model.Problem.Zones)
            if (zone.MaxPeople < Problem.Never)
                model.Share(zone.MaxPeople, (job, way) => job.Zone == zone.Index ? way.People : 0);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var zone in problem.Zones)
        {
            if (zone.MaxPeople == Problem.Never) continue;
            var works = schedule.Work.Where(work => work.Zone == zone.Index && work.People.Count > 0).ToArray();
            foreach (var start in works)
            {
                var (people, begun) = (0, true);
                foreach (var work in works)
                {
                    if (work.From > start.From || start.From >= work.To) continue;
                    people += work.People.Count;
                    begun &= problem.Began(work);
                }
                if (people > zone.MaxPeople)
                    yield return new Breach(Id, Say.About(problem, start) with { Zone = zone.Id },
                        $"At {Say.At(problem, start.From)} {Say.People(people)} work in {zone.Name}, which has room for "
                            + $"{zone.MaxPeople}.")
                        { OnlyFacts = begun };
            }
        }
    }
}
