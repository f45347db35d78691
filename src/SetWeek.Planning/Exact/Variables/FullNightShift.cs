using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// Fixes a shift to the whole night where no rule and no goal depends on its length. This removes variables and no optimal plan.
/// </summary>
internal static class FullNightShift
{
    /// <summary>The shift over the whole night; null where a rule, a goal or the availability makes its length matter.</summary>
    public static ScheduledShift? ShiftOf(Problem problem, Person person, int night)
    {
        var (rules, window) = (problem.Rules, problem.Nights[night]);
        var lengthIsFree = problem.Facts is null
            && problem.Pins.Shifts.All(pin => (pin.Person, pin.Night) != (person.Index, night))
            && rules is { MinPeople: null, KeyholderPresent: false, MaxShiftMinutes: null }
            && person is { MinRest: 0, MaxShift: Problem.Never, MaxMinutesPerNight: Problem.Never }
            && person is { MaxNights: Problem.Never, BreakAfter: Problem.Never } && person.LatestShiftEnds[night] >= window.Closes
            && person.MinShift <= window.Span.Minutes && window.Span.Minutes % problem.ShiftGridMinutes == 0
            && person.Available[night].Any(entry => entry.Contains(window.Span))
            && !person.Commitments.Any(busy => busy.Overlaps(window.Span))
            && problem.Goals.All(choice =>
                choice.Goal is GoalId.Finish or GoalId.Nights or GoalId.LeftOut or GoalId.Reserve or GoalId.Bare
                    or GoalId.Handovers or GoalId.Moves);
        return lengthIsFree ? new ScheduledShift(person.Index, night, window.Opens, window.Closes, null) : null;
    }
}
