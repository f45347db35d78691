using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class WholeRule : IRule
{
    public string Id => "whole";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
