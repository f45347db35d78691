using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class ZoneClosedRule : IRule
{
    public string Id => "zone-closed";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
