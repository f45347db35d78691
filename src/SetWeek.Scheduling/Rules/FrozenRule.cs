using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class FrozenRule : IRule
{
    public string Id => "frozen";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
