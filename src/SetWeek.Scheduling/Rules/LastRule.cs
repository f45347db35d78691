using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class LastRule : IRule
{
    public string Id => "last";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
