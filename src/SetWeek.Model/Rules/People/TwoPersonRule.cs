using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

internal sealed class TwoPersonRule : IRule
{
    public RuleId Id => RuleId.TwoPerson;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.Rules.MinPeople is not { } least) yield break;
        foreach (var night in problem.Nights)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Night == night.Index).ToArray();
            var moments = shifts.SelectMany(shift => new[] { shift.From, shift.To }).Distinct().Order().ToArray();
            for (var next = 1; next < moments.Length; next++)
            {
                var span = new Span(moments[next - 1], moments[next]);
                var there = shifts.Where(shift => shift.Span.Contains(span)).ToArray();
                if (there.Length > 0 && there.Length < least)
                    yield return new Breach(Id, new RuleSubject { Night = night.Id, Person = problem.Crew[there[0].Person].Id },
                        $"{string.Join(" and ", there.Select(shift => problem.Crew[shift.Person].Name))} would be on shift "
                            + $"{(there.Length == 1 ? "alone" : "too few")} from {RulePhrases.Span(problem, span)}; "
                            + $"at least {WeekPhrases.People(least)} must be.")
                        // Nobody can come or go before the first moment at which a shift can start or end.
                        { IsUnavoidable = problem.Facts is { } facts && span.To <= problem.NextShiftSlot(night.Index, facts.Now) };
            }
        }
    }
}
