using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="BreakRule"/> in the exact model.</summary>
internal static class BreakConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var shift in model.FreeShifts())
        {
            var person = model.Problem.Crew[shift.Person];
            if (shift.Begun?.Break is { } taken && taken.From < model.Now)
            {
                if (person.BreakAfter < Problem.Never) model.LimitEnd(shift, taken.To + person.BreakAfter);
                continue;
            }
            if (person.BreakAfter == Problem.Never)
            {
                model.FixFalse(shift.HasBreak);
                continue;
            }
            var longest = model.FloorUnit(person.BreakAfter);
            model.AtLeast(shift.Length - LinearExpr.Term(shift.HasBreak, longest + 1), 0);
            model.AtMost(shift.To - shift.BreakFrom, longest + shift.BreakLength, shift.HasBreak);
            // In a shift that has begun, a break in time may be impossible already; then only the stretch after it is bound.
            if (shift.Begun is null || EarliestBreak(model, shift) - shift.Begun.From <= person.BreakAfter)
                model.AtMost(shift.BreakFrom - shift.From, longest, shift.HasBreak);
            if (shift.Begun is null) model.AtMost(shift.Length, longest, shift.HasBreak.Not());
            else
            {
                // A shift that has begun may also end without a break as early as it can, even where it is longer by then.
                var latest = Math.Max(
                    model.CeilingUnit(shift.Begun.From) + longest, model.CeilingUnit(model.EarliestEnd(shift)));
                model.AtMost(shift.To, latest, shift.HasBreak.Not());
            }
        }
    }

    /// <summary>First minute at which a break can start: after now and after the person's begun work.</summary>
    private static int EarliestBreak(CpWeekModel model, CpShift shift) => model.Problem.NextSlot(shift.Night, model.Activities
        .Where(activity => activity.Begun && activity.FixedWork!.Night == shift.Night
            && model.IsFixedTrue(activity.HasPerson[shift.Person]))
        .Select(activity => activity.FixedWork!.To).Append(model.Now).Max());
}
