using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

/// <summary>
/// The two-person rule: at every moment when anyone is on shift, at least the minimum number of people are. The number
/// changes only where shifts start or end, so the check looks at the spans between those moments.
/// </summary>
internal sealed class TwoPersonRule : IRule
{
    public RuleId Id => RuleId.TwoPerson;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.Rules.MinPeople is not { } minimum) yield break;
        foreach (var night in problem.Nights)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Night == night.Index).ToArray();
            var moments = shifts.SelectMany(shift => new[] { shift.From, shift.To }).Distinct().Order().ToArray();
            for (var next = 1; next < moments.Length; next++)
            {
                var span = new Span(moments[next - 1], moments[next]);
                var onShift = shifts.Where(shift => shift.Span.Contains(span)).ToArray();
                if (onShift.Length > 0 && onShift.Length < minimum)
                    yield return new Breach(Id, new RuleSubject { Night = night.Id, Person = problem.Crew[onShift[0].Person].Id },
                        $"Only {WeekPhrases.List([.. onShift.Select(shift => problem.Crew[shift.Person].Name)])} "
                            + $"{(onShift.Length == 1 ? "is" : "are")} on shift from {RulePhrases.Span(problem, span)}; "
                            + $"at least {WeekPhrases.People(minimum)} must be.")
                        // No shift can start or end before the next slot of the shift grid.
                        { IsUnavoidable = problem.Facts is { } facts
                            && span.To <= problem.NextShiftSlot(night.Index, facts.Now) };
            }
        }
    }
}
