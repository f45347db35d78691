using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="BriefingRule"/> in the exact model.</summary>
internal static class BriefingConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var person in model.Problem.Crew)
        {
            if (person.Briefing == 0) continue;
            foreach (var shift in model.ShiftsOf(person.Index))
            {
                if (model.HasBegun(shift) || model.IsFixedFalse(shift.Present)) continue;
                foreach (var activity in model.NotBegun)
                {
                    var (assigned, inNight) = (activity.HasPerson[person.Index], activity.InNight[shift.Night]);
                    if (!model.IsFixedFalse(assigned) && !model.IsFixedFalse(inNight))
                        model.AtLeast(activity.Start - shift.From, model.CeilingUnit(person.Briefing), assigned, inNight);
                }
            }
        }
    }
}
