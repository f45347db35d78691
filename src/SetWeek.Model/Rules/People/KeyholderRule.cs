using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

internal sealed class KeyholderRule : IRule
{
    public RuleId Id => RuleId.Keyholder;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (!problem.Rules.KeyholderPresent) yield break;
        foreach (var night in problem.Nights)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Night == night.Index).ToArray();
            if (shifts.Length == 0) continue;
            var (named, over) = (schedule.Keyholders[night.Index], problem.HasPassed(night.Closes));
            if (FirstCoveringKeyholder(problem, shifts, shifts) is { } fits)
            {
                if (named != fits)
                    yield return BreachOf(night,
                        $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} names {Name(problem, named)} as keyholder; "
                            + $"{problem.Crew[fits].Name} is the first whose shift spans all the others.", over);
                continue;
            }
            // Starts that lie in the past bind nothing: from now on somebody still has to be there for all the others.
            var left = RemainingShifts(problem, shifts);
            yield return BreachOf(night,
                $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} has no keyholder whose shift spans all the others.",
                over || left.Length == 0
                    || (shifts.Any(shift => problem.HasBegun(shift)) && FirstCoveringKeyholder(problem, left, left) is { } first && first == named));
        }
    }

    private static ScheduledShift[] RemainingShifts(Problem problem, ScheduledShift[] shifts) => problem.Facts is not { } facts ? shifts
        : [.. shifts.Where(shift => !problem.HasEnded(shift))
            .Select(shift => shift with { From = Math.Max(shift.From, facts.Now) })];

    private static int? FirstCoveringKeyholder(Problem problem, ScheduledShift[] candidates, ScheduledShift[] others)
    {
        foreach (var person in problem.Crew)
            if (person.Keyholder
                && candidates.Any(own => own.Person == person.Index && others.All(other => own.Span.Contains(other.Span))))
                return person.Index;
        return null;
    }

    private static string Name(Problem problem, int? person) => person is { } index ? problem.Crew[index].Name : "nobody";

    private Breach BreachOf(NightWindow night, string sentence, bool unavoidable) =>
        new(Id, new RuleSubject { Night = night.Id }, sentence) { IsUnavoidable = unavoidable };
}
