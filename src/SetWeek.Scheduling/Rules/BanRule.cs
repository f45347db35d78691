using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class BanRule : IRule
{
    public string Id => "ban";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
