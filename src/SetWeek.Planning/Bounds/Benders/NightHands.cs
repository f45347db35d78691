using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// Hours of one night in the exact model: while the shop is opened or closed nobody works, so of a shift that reaches into
/// that less can be worked than is paid, and what only a set of people can do is at most what they can work.
/// </summary>
internal sealed class NightHands(Problem problem, Certificates known, ExactModel model, int night)
{
    public void Post()
    {
        var spans = known.Crew.WorkSpans(night);
        if (spans.Count == 0) return;
        var (first, last) = (model.Up(spans[0].From), model.Down(spans[^1].To));
        var worked = new Dictionary<int, IntVar>();
        foreach (var duty in model.DutiesOn(night).Where(duty => !model.IsNo(duty.On)))
        {
            var units = worked[duty.Person] = model.Cp.NewIntVar(0, Math.Max(0, last - first), "");
            model.AtMost(units - duty.Worked, 0);
            model.AtMost(units - duty.To, -first, duty.On);
            model.AtMost(units + duty.From, last, duty.On);
        }
        foreach (var set in known.Sets.Sets) Weigh(set, worked);
    }

    private void Weigh(ulong set, Dictionary<int, IntVar> worked)
    {
        var sum = LinearExpr.NewBuilder(model.Jobs.Count + problem.Crew.Count);
        var any = false;
        foreach (var job in model.Open)
            for (var mode = 0; mode < job.Ways.Count; mode++)
            {
                var takes = known.Sets.Takes(set, job.Ways[mode], job.Task);
                if (takes == 0 || model.IsNo(job.Places[mode, night])) continue;
                sum.AddTerm(job.Places[mode, night], takes * job.Sizes[mode]);
                any = true;
            }
        if (!any) return;
        foreach (var (person, units) in worked)
            if (CrewSets.Holds(set, person)) sum.AddTerm(units, -1);
        model.AtMost(sum, 0);
    }
}
