using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="YoungWorkerRule"/> in the exact model.</summary>
internal static class YoungWorkerConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var shift in model.FreeShifts())
            if (model.Problem.Crew[shift.Person].LatestShiftEnds[shift.Night] is var latestEnd and < Problem.Never)
                model.LimitEnd(shift, latestEnd);
        foreach (var person in model.Problem.Crew)
            foreach (var activity in model.NotBegun)
                if (activity.Task is { } task && person.BarredTraits.Any(task.Traits.Contains)
                    && !model.IsFixedTrue(activity.HasPerson[person.Index]))
                    model.FixFalse(activity.HasPerson[person.Index]);
    }
}
