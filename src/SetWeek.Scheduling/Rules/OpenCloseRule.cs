using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class OpenCloseRule : IRule
{
    public string Id => "open-close";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
