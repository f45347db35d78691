using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class OnShiftRule : IRule
{
    public string Id => "on-shift";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
