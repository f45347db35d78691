using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class LaunchRule : IRule
{
    public string Id => "launch";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
