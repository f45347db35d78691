using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class SameNightRule : IRule
{
    public string Id => "same-night";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
