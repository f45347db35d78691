using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class AvailabilityRule : IRule
{
    public string Id => "availability";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
