using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class BreakRule : IRule
{
    public string Id => "break";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
