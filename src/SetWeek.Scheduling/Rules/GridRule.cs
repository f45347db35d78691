using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class GridRule : IRule
{
    public string Id => "grid";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
