using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class KeyholderRule : IRule
{
    public string Id => "keyholder";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
