using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class DryingRule : IRule
{
    public string Id => "drying";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
