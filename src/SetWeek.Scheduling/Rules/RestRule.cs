using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class RestRule : IRule
{
    public string Id => "rest";

    public void Post(ExactModel model)
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

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var person in problem.Crew)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Person == person.Index).OrderBy(shift => shift.From).ToArray();
            for (var next = 1; next < shifts.Length; next++)
            {
                var rest = shifts[next].From - shifts[next - 1].To;
                // Two shifts in one night are for the on-shift rule to name.
                if (rest < person.MinRest && shifts[next].Night != shifts[next - 1].Night)
                    yield return Of(problem, shifts[next],
                        $"{person.Name} has {Say.Length(Math.Max(0, rest))} of rest between the shift that ends "
                            + $"{Say.At(problem, shifts[next - 1].To)} and the one that starts "
                            + $"{Say.At(problem, shifts[next].From)}",
                        problem.Began(shifts[next]));
            }
            foreach (var shift in shifts)
                foreach (var busy in person.Commitments)
                {
                    // One that ends shortly before a shift is one working day with it, whose rest counts from the shift's end.
                    var (before, after) = (shift.From - busy.To, busy.From - shift.To);
                    if (before >= 0 && before > person.Join && before < person.MinRest)
                        yield return Of(problem, shift,
                            $"{person.Name} has {Say.Length(before)} of rest between the commitment that ends "
                                + $"{Say.At(problem, busy.To)} and the shift that starts {Say.At(problem, shift.From)}",
                            problem.Began(shift));
                    if (after >= 0 && after < person.MinRest)
                        yield return Of(problem, shift,
                            $"{person.Name} has {Say.Length(after)} of rest between the shift that ends "
                                + $"{Say.At(problem, shift.To)} and the commitment that starts {Say.At(problem, busy.From)}",
                            problem.EndsAsSoonAsItCan(shift));
                }
        }
    }

    private Breach Of(Problem problem, Shift shift, string sentence, bool onlyFacts) =>
        new(Id, Say.About(problem, shift),
            $"{sentence}; {Say.Length(problem.Crew[shift.Person].MinRest)} is the least.") { OnlyFacts = onlyFacts };
}
