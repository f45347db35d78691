using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// Hours of one night in the exact model: while the shop is opened or closed nobody works, so of a shift that reaches into
/// that less can be worked than is paid, and what only a set of people can do is at most what they can work.
/// </summary>
internal sealed class CpNightCapacity(Problem problem, RootPropagation propagation, CpWeekModel model, int night)
{
    public void Post()
    {
        var spans = propagation.ShiftWindows.WorkSpans(night);
        if (spans.Count == 0) return;
        var (first, last) = (model.CeilingUnit(spans[0].From), model.FloorUnit(spans[^1].To));
        var worked = new Dictionary<int, IntVar>();
        foreach (var shift in model.ShiftsOn(night).Where(shift => !model.IsFixedFalse(shift.Present)))
        {
            var units = worked[shift.Person] = model.Cp.NewIntVar(0, Math.Max(0, last - first), "");
            model.AtMost(units - shift.Worked, 0);
            model.AtMost(units - shift.To, -first, shift.Present);
            model.AtMost(units + shift.From, last, shift.Present);
        }
        foreach (var set in propagation.HallSets.Sets) AddCapacity(set, worked);
    }

    private void AddCapacity(ulong set, Dictionary<int, IntVar> workedUnits)
    {
        var sum = LinearExpr.NewBuilder(model.Activities.Count + problem.Crew.Count);
        var any = false;
        foreach (var activity in model.NotBegun)
            for (var mode = 0; mode < activity.Modes.Count; mode++)
            {
                var takes = propagation.HallSets.MinPeopleFrom(set, activity.Modes[mode], activity.Task);
                if (takes == 0 || model.IsFixedFalse(activity.InModeAndNight[mode, night])) continue;
                sum.AddTerm(activity.InModeAndNight[mode, night], takes * activity.Sizes[mode]);
                any = true;
            }
        if (!any) return;
        foreach (var (person, units) in workedUnits)
            if (HallSets.Contains(set, person)) sum.AddTerm(units, -1);
        model.AtMost(sum, 0);
    }
}
