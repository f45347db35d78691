using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class TwoPersonRule : IRule
{
    public string Id => "two-person";

    public void Post(ExactModel model)
    {
        if (model.Problem.Rules.MinPeople is not { } least || least < 2) return;
        foreach (var night in model.Problem.Nights)
        {
            ExactDuty[] duties = [.. model.DutiesOn(night.Index).Where(duty => !model.IsNo(duty.On))];
            if (duties.All(duty => duty.Settled)) continue;
            // Nobody can come or go before the first moment of the shift grid from now on.
            var first = model.Problem.NextShiftSlot(night.Index, model.Now) - night.Opens;
            var steps = duties.Max(model.LastStep);
            for (var step = first / model.Problem.ShiftGrid; step < steps; step++) Post(model, night.Index, step, least, duties);
        }
        foreach (var duty in model.OpenDuties()) model.CloseCover(duty);
    }

    private static void Post(ExactModel model, int night, int step, int least, ExactDuty[] duties)
    {
        ILiteral[] there = [.. duties.Select(duty => model.Covers(duty, step)).Where(covers => !model.IsNo(covers))];
        if (there.Length == 0) return;
        var any = there.Any(model.IsYes) ? model.Yes : model.Cp.NewBoolVar("");
        foreach (var covers in there) model.Implies(covers, any);
        model.AtLeast(LinearExpr.Sum(there) - LinearExpr.Term(any, least), 0);
        model.Attended(night, any);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.Rules.MinPeople is not { } least) yield break;
        foreach (var night in problem.Nights)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Night == night.Index).ToArray();
            var moments = shifts.SelectMany(shift => new[] { shift.From, shift.To }).Distinct().Order().ToArray();
            for (var next = 1; next < moments.Length; next++)
            {
                var span = new Span(moments[next - 1], moments[next]);
                var there = shifts.Where(shift => shift.Span.Contains(span)).ToArray();
                if (there.Length > 0 && there.Length < least)
                    yield return new Breach(Id, new About { Night = night.Id, Person = problem.Crew[there[0].Person].Id },
                        $"{string.Join(" and ", there.Select(shift => problem.Crew[shift.Person].Name))} would be on shift "
                            + $"{(there.Length == 1 ? "alone" : "too few")} from {Say.Span(problem, span)}; "
                            + $"at least {Say.People(least)} must be.")
                        // Nobody can come or go before the first moment at which a shift can start or end.
                        { OnlyFacts = problem.Facts is { } facts && span.To <= problem.NextShiftSlot(night.Index, facts.Now) };
            }
        }
    }
}
