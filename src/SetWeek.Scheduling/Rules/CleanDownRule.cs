using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class CleanDownRule : IRule
{
    public string Id => "clean-down";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
