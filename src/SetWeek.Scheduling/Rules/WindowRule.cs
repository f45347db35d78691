using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class WindowRule : IRule
{
    public string Id => "window";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
