using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class AfterRule : IRule
{
    public string Id => "after";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
