using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class ShiftLengthRule : IRule
{
    public string Id => "shift-length";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        yield break;
    }
}
