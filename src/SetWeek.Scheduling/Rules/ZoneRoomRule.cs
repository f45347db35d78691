using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class ZoneRoomRule : IRule
{
    public string Id => "zone-room";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
