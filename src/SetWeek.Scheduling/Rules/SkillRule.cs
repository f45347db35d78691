using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class SkillRule : IRule
{
    public string Id => "skill";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
