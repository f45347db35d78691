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
        PostTimes(model);
        foreach (var shift in model.AllShifts)
            if (!model.HasBegun(shift) && !model.IsFixedFalse(shift.HasBreak)) PostBetweenWork(model, shift);
    }

    /// <summary>
    /// Posts what the rule says of a break and its shift alone. It stays satisfied where work is removed from the plan, while a
    /// break may no longer lie between two pieces of work then.
    /// </summary>
    public static void PostTimes(CpWeekModel model)
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
            if (shift.Begun is null)
            {
                var clear = model.CeilingUnit(person.BreakClear);
                model.AtLeast(shift.BreakFrom - shift.From, clear, shift.HasBreak);
                model.AtLeast(shift.To - shift.BreakFrom, clear + shift.BreakLength, shift.HasBreak);
                model.AtMost(shift.Length, longest, shift.HasBreak.Not());
            }
            else
            {
                // A shift that has begun may also end without a break as early as it can, even where it is longer by then.
                var latest = Math.Max(
                    model.CeilingUnit(shift.Begun.From) + longest, model.CeilingUnit(model.EarliestEnd(shift)));
                model.AtMost(shift.To, latest, shift.HasBreak.Not());
            }
        }
    }

    /// <summary>
    /// Where the person has two or more pieces of work in the shift, one ends before the break and another starts after it. The
    /// opening and the closing of the night's keyholder are such pieces. Work does not overlap a break, so each piece lies on one
    /// side of it, and a literal for each piece says on which.
    /// </summary>
    private static void PostBetweenWork(CpWeekModel model, CpShift shift)
    {
        ILiteral[] assigned = [.. model.NotBegun
            .Select(activity => model.AssignedInNight(activity, shift.Person, shift.Night))];
        var keyholder = model.NamedKeyholder(shift);
        var opening = model.IsFixedFalse(keyholder) ? 0 : model.CeilingUnit(model.Problem.Rules.OpeningMinutes ?? 0);
        var closing = model.IsFixedFalse(keyholder) ? 0 : model.CeilingUnit(model.Problem.Rules.ClosingMinutes ?? 0);
        var count = assigned.Count(literal => !model.IsFixedFalse(literal));
        if (count + Math.Sign(opening) + Math.Sign(closing) < 2) return;
        var atMostOne = model.Cp.NewBoolVar("");
        var (pieces, before) = (LinearExpr.NewBuilder(count + 2), LinearExpr.NewBuilder(count + 1));
        if (opening > 0)
        {
            pieces.Add(keyholder);
            before.Add(keyholder);
            model.AtLeast(shift.BreakFrom - shift.From, opening, shift.HasBreak, keyholder, atMostOne.Not());
        }
        if (closing > 0)
        {
            pieces.Add(keyholder);
            model.AtLeast(
                shift.To - shift.BreakFrom, closing + shift.BreakLength, shift.HasBreak, keyholder, atMostOne.Not());
        }
        foreach (var (activity, isAssigned) in model.NotBegun.Zip(assigned))
        {
            if (model.IsFixedFalse(isAssigned)) continue;
            var isBefore = model.Cp.NewBoolVar("");
            model.Implies(isBefore, isAssigned);
            model.AtLeast(shift.BreakFrom - activity.End, 0, shift.HasBreak, isBefore);
            model.AtLeast(activity.Start - shift.BreakFrom, shift.BreakLength,
                shift.HasBreak, isAssigned, isBefore.Not(), atMostOne.Not());
            pieces.Add(isAssigned);
            before.Add(isBefore);
        }
        model.AtMost(pieces, 1, atMostOne);
        model.AtLeast(before, 1, shift.HasBreak, atMostOne.Not());
        model.AtLeast(pieces - before, 1, shift.HasBreak, atMostOne.Not());
    }

    /// <summary>First minute at which a break can start: after now and after the person's begun work.</summary>
    private static int EarliestBreak(CpWeekModel model, CpShift shift) => model.Problem.NextSlot(shift.Night, model.Activities
        .Where(activity => activity.Begun && activity.FixedWork!.Night == shift.Night
            && model.IsFixedTrue(activity.HasPerson[shift.Person]))
        .Select(activity => activity.FixedWork!.To).Append(model.Now).Max());
}
