using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class TwoPersonRule : IRule
{
    public string Id => "two-person";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
