using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class KitRule : IRule
{
    public string Id => "kit";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
