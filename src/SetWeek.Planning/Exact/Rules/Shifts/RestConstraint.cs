using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="RestRule"/> in the exact model.</summary>
internal static class RestConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var person in model.Problem.Crew)
        {
            if (person.MinRest == 0) continue;
            foreach (var duty in model.DutiesOf(person.Index))
            {
                foreach (var next in model.DutiesOf(person.Index).Skip(duty.Night + 1))
                    if (next.Begun is null && !(duty.Settled && next.Settled) && TooClose(model, duty, next, person.MinRest))
                        model.AtLeast(next.From - duty.To, model.Up(person.MinRest), duty.On, next.On);
                if (!duty.Settled) FromCommitments(model, duty, person);
            }
        }
    }

    private static bool TooClose(ExactModel model, ExactDuty duty, ExactDuty next, int rest) =>
        model.Problem.Nights[next.Night].Opens - Math.Max(model.Problem.Nights[duty.Night].Closes, duty.Fixed?.To ?? 0) < rest;

    private static void FromCommitments(ExactModel model, ExactDuty duty, Person person)
    {
        if (duty.Begun is null)
            model.Outside(duty.From, [.. person.Commitments.Select(busy => (
                model.Up(busy.To + Math.Max(0, person.Join + 1)), model.Up(busy.To + person.MinRest) - 1))], duty.On);
        foreach (var busy in person.Commitments)
        {
            if (duty.Begun is null)
                model.Outside(duty.To, [(model.Down(busy.From - person.MinRest) + 1, model.Down(busy.From))], duty.On);
            else if (busy.From > duty.Begun.From) model.EndsBy(duty, busy.From - person.MinRest);
        }
    }
}
