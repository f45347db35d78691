using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// Valid inequalities for one night of the exact model. Work lies inside the work spans, which exclude opening and closing. So a
/// person's work is bounded by the part of their shift between the start of the first span and the end of the last. The work
/// that only a Hall set can do is at most the sum of these bounds over its people.
/// </summary>
internal sealed class CpNightCapacity(Problem problem, RootPropagation propagation, CpWeekModel model, int night)
{
    public void Post()
    {
        var spans = propagation.ShiftWindows.WorkSpans(night);
        if (spans.Count == 0) return;
        var (first, last) = (model.CeilingUnit(spans[0].From), model.FloorUnit(spans[^1].To));
        var workedUnits = new Dictionary<int, IntVar>();
        foreach (var shift in model.ShiftsOn(night).Where(shift => !model.IsFixedFalse(shift.Present)))
        {
            var units = workedUnits[shift.Person] = model.Cp.NewIntVar(0, Math.Max(0, last - first), "");
            model.AtMost(units - shift.Worked, 0);
            model.AtMost(units - shift.To, -first, shift.Present);
            model.AtMost(units + shift.From, last, shift.Present);
        }
        foreach (var set in propagation.HallSets.Sets) AddCapacity(set, workedUnits);
    }

    private void AddCapacity(ulong set, Dictionary<int, IntVar> workedUnits)
    {
        var sum = LinearExpr.NewBuilder(model.Activities.Count + problem.Crew.Count);
        var any = false;
        foreach (var activity in model.NotBegun)
            for (var mode = 0; mode < activity.Modes.Count; mode++)
            {
                var people = propagation.HallSets.MinPeopleFrom(set, activity.Modes[mode], activity.Task);
                if (people == 0 || model.IsFixedFalse(activity.InModeAndNight[mode, night])) continue;
                sum.AddTerm(activity.InModeAndNight[mode, night], people * activity.Sizes[mode]);
                any = true;
            }
        if (!any) return;
        foreach (var (person, units) in workedUnits)
            if (HallSets.Contains(set, person)) sum.AddTerm(units, -1);
        model.AtMost(sum, 0);
    }
}
