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
        foreach (var duty in model.FreeShifts())
        {
            var person = model.Problem.Crew[duty.Person];
            var most = Math.Min(person.MaxShift, person.MaxMinutesPerNight);
            if (duty.Begun is { } begun)
            {
                var joined = person.Commitments
                    .Where(busy => busy.To <= begun.From && begun.From - busy.To <= person.JoinMinutes).Sum(busy => busy.Minutes);
                if (person.MaxShift < Problem.Never) most = Math.Min(person.MaxShift - joined, person.MaxMinutesPerNight);
                if (most < Problem.Never) model.LimitEnd(duty, begun.From + most);
                PostMinimumLength(model, duty, begun, most);
                continue;
            }
            if (person.MinShift > 0) model.AtLeast(duty.Length - LinearExpr.Term(duty.Present, model.CeilingUnit(person.MinShift)), 0);
            if (most < Problem.Never) model.AtMost(duty.Length - LinearExpr.Term(duty.Present, model.FloorUnit(most)), 0);
            if (person.MaxShift < Problem.Never) PostWorkingDayLimit(model, duty, person);
        }
        foreach (var person in model.Problem.Crew)
        {
            if (person.MaxNights >= model.Problem.Nights.Count) continue;
            var shifts = model.ShiftsOf(person.Index).ToArray();
            var begun = shifts.Count(duty => duty.Begun is not null || (duty.FixedShift is { } shift && shift.From < model.Now));
            model.AtMost(LinearExpr.Sum(shifts.Select(duty => duty.Present)), Math.Max(begun, person.MaxNights));
        }
    }

    /// <summary>A shift under way is long enough wherever it can be; where it cannot, it ends as soon as it can.</summary>
    private static void PostMinimumLength(CpWeekModel model, CpShift shift, ScheduledShift begun, int most)
    {
        var (problem, person) = (model.Problem, model.Problem.Crew[shift.Person]);
        var longEnough = new Span(begun.From, problem.NextShiftSlot(shift.Night, begun.From + person.MinShift));
        var can = longEnough.Minutes <= most && person.ShiftWindows[shift.Night].Any(window => window.Contains(longEnough))
            && !person.Commitments.Any(busy => busy.Overlaps(longEnough));
        if (can) model.AtLeast(shift.To, model.CeilingUnit(longEnough.To));
        else if (person.MinShift > 0) model.LimitEnd(shift, -Problem.Never);
    }

    /// <summary>A commitment that joins counts towards the longest day.</summary>
    private static void PostWorkingDayLimit(CpWeekModel model, CpShift shift, Person person)
    {
        var day = LinearExpr.NewBuilder(4).Add(shift.Length);
        var any = false;
        foreach (var busy in person.Commitments)
        {
            var reach = model.Horizon(shift.Night);
            if (person.JoinMinutes < 0 || busy.To + person.JoinMinutes < reach.From || busy.To > reach.To) continue;
            var joined = model.Cp.NewBoolVar("");
            model.Outside(shift.From, [(model.CeilingUnit(busy.To), model.FloorUnit(busy.To + person.JoinMinutes))], shift.Present, joined.Not());
            day.AddTerm(joined, model.CeilingUnit(busy.Minutes));
            any = true;
        }
        if (any) model.AtMost(day, model.FloorUnit(person.MaxShift), shift.Present);
    }
}
