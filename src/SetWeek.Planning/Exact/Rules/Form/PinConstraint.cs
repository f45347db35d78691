using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="PinRule"/> in the exact model.</summary>
internal static class PinConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var pin in model.Problem.Pins.Stints)
        {
            var activity = model.Activities[pin.Stint];
            if (activity.Begun) continue;
            foreach (var (_, _, night, starts) in model.StartDomainsOf(activity))
            {
                if (pin.Night is { } only && only != night && model.Problem.Nights[only].Closes > model.Now)
                    starts.AtMost(-Problem.Never);
                if (pin.From is not { } from || from < model.Now) continue;
                starts.AtLeast(model.CeilingUnit(from));
                starts.AtMost(model.FloorUnit(from));
            }
            foreach (var person in pin.People) model.Implies(activity.Present, activity.HasPerson[person]);
        }
        foreach (var pin in model.Problem.Pins.Shifts)
            if (model.Shifts[pin.Person, pin.Night] is { IsFixed: false } shift) PostShift(model, pin, shift);
    }

    /// <summary>Of a shift that has begun, only the end can still be pinned, where it is not too late for it.</summary>
    private static void PostShift(CpWeekModel model, PinnedShift pin, CpShift shift)
    {
        var begun = shift.Begun is not null;
        if (pin.Off)
        {
            if (!begun) model.FixFalse(shift.Present);
            return;
        }
        if (!begun) model.FixTrue(shift.Present);
        if (pin.From is { } from && from >= model.Now && !begun)
        {
            model.AtLeast(shift.From, model.CeilingUnit(from));
            model.AtMost(shift.From, model.FloorUnit(from));
        }
        if (pin.To is not { } to || to <= model.Now || begun && model.EarliestEnd(shift) > to) return;
        model.AtLeast(shift.To, model.CeilingUnit(to));
        model.AtMost(shift.To, model.FloorUnit(to));
    }
}
