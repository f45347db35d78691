using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

/// <summary>
/// The keyholder rule, where the rules ask for a keyholder: each night with shifts has a keyholder whose shift spans all the
/// others, and the plan names the first such person in crew order.
/// </summary>
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
            var (named, isOver) = (schedule.Keyholders[night.Index], problem.HasPassed(night.Closes));
            if (FirstCoveringKeyholder(problem, shifts, shifts) is { } expected)
            {
                if (named != expected)
                    yield return BreachOf(night,
                        $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} names {Name(problem, named)} as keyholder; "
                            + $"{problem.Crew[expected].Name} is the first whose shift spans all the others.", isOver);
                continue;
            }
            // Past starts cannot change. From now on, one keyholder must still span the rest of all shifts.
            var remaining = RemainingShifts(problem, shifts);
            yield return BreachOf(night,
                $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} has no keyholder whose shift spans all the others.",
                isOver || remaining.Length == 0
                    || (shifts.Any(shift => problem.HasBegun(shift))
                        && FirstCoveringKeyholder(problem, remaining, remaining) is { } first && first == named));
        }
    }

    /// <summary>The shifts that have not ended, without the part before the current time.</summary>
    private static ScheduledShift[] RemainingShifts(Problem problem, ScheduledShift[] shifts) =>
        problem.Facts is not { } facts ? shifts
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
