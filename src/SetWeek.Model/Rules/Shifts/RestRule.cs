using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

internal sealed class RestRule : IRule
{
    public string Id => "rest";

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
