using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

internal sealed class ShiftLengthRule : IRule
{
    public string Id => "shift-length";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var (person, length, joined) = (problem.Crew[shift.Person], shift.Span.Minutes, Joined(problem, shift));
            if (length < person.MinShift)
                yield return Of(problem, shift,
                    $"{Say.Shift(problem, shift)} is {Say.Length(length)}, under the least of {Say.Length(person.MinShift)}.",
                    problem.Ended(shift) || (problem.EndsAsSoonAsItCan(shift) && !CouldBeLongEnough(problem, shift)));
            if (length + joined > person.MaxShift)
                yield return Of(problem, shift, joined == 0
                    ? $"{Say.Shift(problem, shift)} is {Say.Length(length)}, over the most of {Say.Length(person.MaxShift)}."
                    : $"{Say.Shift(problem, shift)} and the commitment just before it make a working day of "
                        + $"{Say.Length(length + joined)}, over the most of {Say.Length(person.MaxShift)}.",
                    problem.EndsAsSoonAsItCan(shift));
            if (length > person.MaxMinutesPerNight)
                yield return Of(problem, shift,
                    $"{Say.Shift(problem, shift)} is {Say.Length(length)}; {person.Name} works "
                        + $"{Say.Length(person.MaxMinutesPerNight)} a night at most.",
                    problem.EndsAsSoonAsItCan(shift));
        }
        foreach (var person in problem.Crew)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Person == person.Index).ToArray();
            if (shifts.Length > person.MaxNights)
                yield return new Breach(Id, new About { Person = person.Id },
                    $"{person.Name} has {shifts.Length} shifts and works {person.MaxNights} nights at most.")
                    { OnlyFacts = shifts.All(shift => problem.Began(shift)) };
        }
    }

    private static int Joined(Problem problem, Shift shift)
    {
        var minutes = 0;
        foreach (var busy in problem.Crew[shift.Person].Commitments)
            if (busy.To <= shift.From && shift.From - busy.To <= problem.Crew[shift.Person].Join) minutes += busy.Minutes;
        return minutes;
    }

    /// <summary>Would a later end give the begun shift its least length and keep availability and the longest day?</summary>
    private static bool CouldBeLongEnough(Problem problem, Shift shift)
    {
        var person = problem.Crew[shift.Person];
        var longer = shift.Span with { To = problem.NextShiftSlot(shift.Night, shift.From + person.MinShift) };
        return person.Windows[shift.Night].Any(window => window.Contains(longer))
            && !person.Commitments.Any(busy => busy.Overlaps(longer))
            && longer.Minutes <= person.MaxMinutesPerNight && longer.Minutes + Joined(problem, shift) <= person.MaxShift;
    }

    private Breach Of(Problem problem, Shift shift, string sentence, bool onlyFacts) =>
        new(Id, Say.About(problem, shift), sentence) { OnlyFacts = onlyFacts };
}
