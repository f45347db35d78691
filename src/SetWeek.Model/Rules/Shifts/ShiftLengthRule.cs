using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

/// <summary>
/// The shift-length rule: a shift, break included, is neither shorter than the minimum nor longer than the maximum and the
/// person's own limit. A commitment joined to it counts towards the maximum. A person has at most as many shifts as the own
/// limit allows.
/// </summary>
internal sealed class ShiftLengthRule : IRule
{
    public RuleId Id => RuleId.ShiftLength;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var (person, length, joined) = (problem.Crew[shift.Person], shift.Span.Minutes, JoinedMinutes(problem, shift));
            if (length < person.MinShift)
                yield return BreachOf(problem, shift,
                    $"{RulePhrases.Shift(problem, shift)} is {RulePhrases.Duration(length)}, below the minimum of "
                        + $"{RulePhrases.Duration(person.MinShift)}.",
                    problem.HasEnded(shift) || (problem.EndsAtEarliest(shift) && !CanReachMinimumLength(problem, shift)));
            if (length + joined > person.MaxShift)
                yield return BreachOf(problem, shift, joined == 0
                    ? $"{RulePhrases.Shift(problem, shift)} is {RulePhrases.Duration(length)}, above the maximum of "
                        + $"{RulePhrases.Duration(person.MaxShift)}."
                    : $"{RulePhrases.Shift(problem, shift)} and the commitment just before it make a working day of "
                        + $"{RulePhrases.Duration(length + joined)}, above the maximum of "
                        + $"{RulePhrases.Duration(person.MaxShift)}.",
                    problem.EndsAtEarliest(shift));
            if (length > person.MaxMinutesPerNight)
                yield return BreachOf(problem, shift,
                    $"{RulePhrases.Shift(problem, shift)} is {RulePhrases.Duration(length)}; {person.Name} works at "
                        + $"most {RulePhrases.Duration(person.MaxMinutesPerNight)} a night.",
                    problem.EndsAtEarliest(shift));
        }
        foreach (var person in problem.Crew)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Person == person.Index).ToArray();
            if (shifts.Length > person.MaxNights)
                yield return new Breach(Id, new RuleSubject { Person = person.Id },
                    $"{person.Name} has {shifts.Length} shifts, but may work at most {person.MaxNights} nights.")
                    { IsUnavoidable = shifts.All(shift => problem.HasBegun(shift)) };
        }
    }

    private static int JoinedMinutes(Problem problem, ScheduledShift shift)
    {
        var minutes = 0;
        foreach (var busy in problem.Crew[shift.Person].Commitments)
            if (busy.To <= shift.From && shift.From - busy.To <= problem.Crew[shift.Person].JoinMinutes) minutes += busy.Minutes;
        return minutes;
    }

    /// <summary>
    /// True if a later end gives the begun shift its minimum length and keeps availability and maximum length.
    /// </summary>
    private static bool CanReachMinimumLength(Problem problem, ScheduledShift shift)
    {
        var person = problem.Crew[shift.Person];
        var longer = shift.Span with { To = problem.NextShiftSlot(shift.Night, shift.From + person.MinShift) };
        return person.ShiftWindows[shift.Night].Any(window => window.Contains(longer))
            && !person.Commitments.Any(busy => busy.Overlaps(longer))
            && longer.Minutes <= person.MaxMinutesPerNight && longer.Minutes + JoinedMinutes(problem, shift) <= person.MaxShift;
    }

    private Breach BreachOf(Problem problem, ScheduledShift shift, string sentence, bool unavoidable) =>
        new(Id, RulePhrases.Subject(problem, shift), sentence) { IsUnavoidable = unavoidable };
}
