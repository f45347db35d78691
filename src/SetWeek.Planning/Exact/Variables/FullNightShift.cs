using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>Where no rule and no goal minds how long a shift is, it lasts the night: no good plan is lost that way.</summary>
internal static class FullNightShift
{
    /// <summary>The shift; null where something minds.</summary>
    public static ScheduledShift? ShiftOf(Problem problem, Person person, int night)
    {
        var (rules, window) = (problem.Rules, problem.Nights[night]);
        var free = problem.Facts is null && rules is { MinPeople: null, KeyholderPresent: false, MaxShiftMinutes: null }
            && person is { MinRest: 0, MaxShift: Problem.Never, MaxMinutesPerNight: Problem.Never }
            && person is { MaxNights: Problem.Never, BreakAfter: Problem.Never } && person.LatestShiftEnds[night] >= window.Closes
            && person.MinShift <= window.Span.Minutes && window.Span.Minutes % problem.ShiftGridMinutes == 0
            && person.Available[night].Any(entry => entry.Contains(window.Span))
            && !person.Commitments.Any(busy => busy.Overlaps(window.Span))
            && problem.Goals.All(choice => choice.Goal is GoalId.Finish or GoalId.Nights or GoalId.LeftOut or GoalId.Reserve or GoalId.Moves);
        return free ? new ScheduledShift(person.Index, night, window.Opens, window.Closes, null) : null;
    }
}
