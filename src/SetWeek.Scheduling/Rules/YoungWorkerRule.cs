using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class YoungWorkerRule : IRule
{
    public string Id => "young-worker";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
