using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class DueRule : IRule
{
    public string Id => "due";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
