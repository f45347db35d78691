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

    /// <summary>The nights are so close that the rest between the shifts may be too short.</summary>
    private static bool CanConflict(CpWeekModel model, CpShift shift, CpShift next, int rest)
    {
        var latestEnd = Math.Max(model.Problem.Nights[shift.Night].Closes, shift.FixedShift?.To ?? 0);
        return model.Problem.Nights[next.Night].Opens - latestEnd < rest;
    }

    /// <summary>
    /// Rest between a shift and a commitment on either side. A commitment that ends shortly before the shift belongs to the same
    /// working day, so no rest is required between them. Of a shift that has begun, only the rest after it is constrained.
    /// </summary>
    private static void PostCommitmentRest(CpWeekModel model, CpShift shift, Person person)
    {
        if (shift.Begun is null)
            model.Outside(shift.From, [.. person.Commitments.Select(commitment => (
                model.CeilingUnit(commitment.To + Math.Max(0, person.JoinMinutes + 1)),
                model.CeilingUnit(commitment.To + person.MinRest) - 1))], shift.Present);
        foreach (var commitment in person.Commitments)
        {
            if (shift.Begun is null)
                model.Outside(shift.To,
                    [(model.FloorUnit(commitment.From - person.MinRest) + 1, model.FloorUnit(commitment.From))], shift.Present);
            else if (commitment.From > shift.Begun.From) model.LimitEnd(shift, commitment.From - person.MinRest);
        }
    }
}
