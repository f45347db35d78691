using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class OnePlaceRule : IRule
{
    public string Id => "one-place";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
