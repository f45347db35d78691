using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class EquipmentRule : IRule
{
    public string Id => "equipment";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
