using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="RestRule"/> in the exact model.</summary>
internal static class RestConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var person in model.Problem.Crew)
        {
            if (person.MinRest == 0) continue;
            foreach (var shift in model.ShiftsOf(person.Index))
            {
                foreach (var next in model.ShiftsOf(person.Index).Skip(shift.Night + 1))
                    if (next.Begun is null && !(shift.IsFixed && next.IsFixed) && CanConflict(model, shift, next, person.MinRest))
                        model.AtLeast(next.From - shift.To, model.CeilingUnit(person.MinRest), shift.Present, next.Present);
                if (!shift.IsFixed) PostCommitmentRest(model, shift, person);
            }
        }
    }

    private static bool CanConflict(CpWeekModel model, CpShift shift, CpShift next, int rest) =>
        model.Problem.Nights[next.Night].Opens - Math.Max(model.Problem.Nights[shift.Night].Closes, shift.FixedShift?.To ?? 0) < rest;

    private static void PostCommitmentRest(CpWeekModel model, CpShift shift, Person person)
    {
        if (shift.Begun is null)
            model.Outside(shift.From, [.. person.Commitments.Select(busy => (
                model.CeilingUnit(busy.To + Math.Max(0, person.JoinMinutes + 1)), model.CeilingUnit(busy.To + person.MinRest) - 1))], shift.Present);
        foreach (var busy in person.Commitments)
        {
            if (shift.Begun is null)
                model.Outside(shift.To, [(model.FloorUnit(busy.From - person.MinRest) + 1, model.FloorUnit(busy.From))], shift.Present);
            else if (busy.From > shift.Begun.From) model.LimitEnd(shift, busy.From - person.MinRest);
        }
    }
}
