using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class RestRule : IRule
{
    public string Id => "rest";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
