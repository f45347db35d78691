using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="ShiftLengthRule"/> in the exact model.</summary>
internal static class ShiftLengthConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var shift in model.FreeShifts())
        {
            var person = model.Problem.Crew[shift.Person];
            var longest = Math.Min(person.MaxShift, person.MaxMinutesPerNight);
            if (shift.Begun is { } begun)
            {
                var joined = person.Commitments
                    .Where(commitment => commitment.To <= begun.From && begun.From - commitment.To <= person.JoinMinutes)
                    .Sum(commitment => commitment.Minutes);
                if (person.MaxShift < Problem.Never) longest = Math.Min(person.MaxShift - joined, person.MaxMinutesPerNight);
                if (longest < Problem.Never) model.LimitEnd(shift, begun.From + longest);
                PostMinimumLength(model, shift, begun, longest);
                continue;
            }
            if (person.MinShift > 0)
                model.AtLeast(shift.Length - LinearExpr.Term(shift.Present, model.CeilingUnit(person.MinShift)), 0);
            if (longest < Problem.Never)
                model.AtMost(shift.Length - LinearExpr.Term(shift.Present, model.FloorUnit(longest)), 0);
            if (person.MaxShift < Problem.Never) PostWorkingDayLimit(model, shift, person);
        }
        foreach (var person in model.Problem.Crew)
        {
            if (person.MaxNights >= model.Problem.Nights.Count) continue;
            var shifts = model.ShiftsOf(person.Index).ToArray();
            var begun = shifts.Count(shift => shift.Begun is not null || shift.FixedShift is { } known && known.From < model.Now);
            model.AtMost(LinearExpr.Sum(shifts.Select(shift => shift.Present)), Math.Max(begun, person.MaxNights));
        }
    }

    /// <summary>
    /// A shift that has begun lasts at least the minimum where that is possible. Where it is not, the shift ends as early as it
    /// can.
    /// </summary>
    private static void PostMinimumLength(CpWeekModel model, CpShift shift, ScheduledShift begun, int longest)
    {
        var (problem, person) = (model.Problem, model.Problem.Crew[shift.Person]);
        var longEnough = new Span(begun.From, problem.NextShiftSlot(shift.Night, begun.From + person.MinShift));
        var isPossible = longEnough.Minutes <= longest
            && person.ShiftWindows[shift.Night].Any(window => window.Contains(longEnough))
            && !person.Commitments.Any(commitment => commitment.Overlaps(longEnough));
        if (isPossible) model.AtLeast(shift.To, model.CeilingUnit(longEnough.To));
        else if (person.MinShift > 0) model.LimitEnd(shift, -Problem.Never);
    }

    /// <summary>A commitment that joins the shift counts towards the longest working day.</summary>
    private static void PostWorkingDayLimit(CpWeekModel model, CpShift shift, Person person)
    {
        var workingDay = LinearExpr.NewBuilder(4).Add(shift.Length);
        var any = false;
        foreach (var commitment in person.Commitments)
        {
            var horizon = model.Horizon(shift.Night);
            if (person.JoinMinutes < 0
                || commitment.To + person.JoinMinutes < horizon.From || commitment.To > horizon.To) continue;
            var joined = model.Cp.NewBoolVar("");
            model.Outside(shift.From,
                [(model.CeilingUnit(commitment.To), model.FloorUnit(commitment.To + person.JoinMinutes))],
                shift.Present, joined.Not());
            workingDay.AddTerm(joined, model.CeilingUnit(commitment.Minutes));
            any = true;
        }
        if (any) model.AtMost(workingDay, model.FloorUnit(person.MaxShift), shift.Present);
    }
}
