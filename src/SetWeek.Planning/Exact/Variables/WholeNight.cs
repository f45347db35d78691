using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>Where no rule and no goal minds how long a shift is, it lasts the night: no good plan is lost that way.</summary>
internal static class WholeNight
{
    /// <summary>The shift; null where something minds.</summary>
    public static Shift? Of(Problem problem, Person person, int night)
    {
        var (rules, window) = (problem.Rules, problem.Nights[night]);
        var free = problem.Facts is null && rules is { MinPeople: null, KeyholderPresent: false, MaxShiftMinutes: null }
            && person is { MinRest: 0, MaxShift: Problem.Never, MaxMinutesPerNight: Problem.Never }
            && person is { MaxNights: Problem.Never, BreakAfter: Problem.Never } && person.Until[night] >= window.Closes
            && person.MinShift <= window.Span.Minutes && window.Span.Minutes % problem.ShiftGrid == 0
            && person.Available[night].Any(entry => entry.Contains(window.Span))
            && !person.Commitments.Any(busy => busy.Overlaps(window.Span))
            && problem.Goals.All(choice => choice.Goal is "finish" or "nights" or "leftOut" or "reserve" or "moves");
        return free ? new Shift(person.Index, night, window.Opens, window.Closes, null) : null;
    }
}
