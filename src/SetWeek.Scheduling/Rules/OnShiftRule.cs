using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class OnShiftRule : IRule
{
    public string Id => "on-shift";

    public void Post(ExactModel model)
    {
        foreach (var job in model.Open)
            foreach (var person in model.Problem.Crew)
                if (!model.IsNo(job.People[person.Index])) Post(model, job, [.. model.DutiesOf(person.Index)]);
        foreach (var duty in model.AllDuties)
        {
            var (opens, ends, away) = (model.Opens(duty.Night), model.Up(model.Reach(duty.Night).To), model.Away[duty.Person]);
            if (model.IsNo(duty.On)) continue;
            if (!duty.Settled)
            {
                away.Add(model.Cp.NewIntervalVar(LinearExpr.Constant(opens), duty.From - opens, duty.From, ""));
                away.Add(model.Cp.NewIntervalVar(duty.To, ends - duty.To, LinearExpr.Constant(ends), ""));
            }
            if (!model.IsNo(duty.Break))
                away.Add(model.Cp.NewOptionalFixedSizeIntervalVar(duty.BreakFrom, duty.BreakSize, duty.Break, ""));
        }
    }

    /// <summary>
    /// Time away is what keeps work inside a free shift; for a fixed one it is said outright. (A line of time that is away from
    /// end to end makes the solver, 9.15 without probing, call some models impossible that are not.)
    /// </summary>
    private static void Post(ExactModel model, ExactJob job, ExactDuty[] duties)
    {
        var at = job.People[duties[0].Person];
        foreach (var duty in duties)
        {
            var (there, then) = model.There(job, duty) is { } both ? (both, model.Yes) : (at, job.Nights[duty.Night]);
            model.Never(there, then, duty.On.Not());
            if (!duty.Settled || model.IsNo(duty.On)) continue;
            model.AtLeast(job.Start - duty.From, 0, there, then);
            model.AtLeast(duty.To - job.End, 0, there, then);
        }
        model.Never([at, .. duties.Select(duty => model.There(job, duty)?.Not() ?? duty.On.Not())]);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byPersonNight = schedule.Shifts.ToLookup(shift => (shift.Person, shift.Night));
        foreach (var shifts in byPersonNight)
            if (shifts.Count() > 1)
                yield return new Breach(Id, Say.About(problem, shifts.First()),
                    $"{problem.Crew[shifts.Key.Person].Name} has {shifts.Count()} shifts in "
                        + $"{Say.Night(problem, shifts.Key.Night)}; one is allowed.")
                    { OnlyFacts = shifts.All(shift => problem.Ended(shift)) };
        foreach (var work in schedule.Work)
            foreach (var hand in work.People)
            {
                var shift = byPersonNight[(hand.Person, work.Night)].FirstOrDefault();
                if (shift is not null && Holds(shift, work.Span)) continue;
                var about = Say.About(problem, work) with { Person = problem.Crew[hand.Person].Id };
                yield return new Breach(Id, about, Sentence(problem, work, hand, shift))
                    { OnlyFacts = problem.Began(work) && !RunsOn(problem, work, shift) };
            }
    }

    private static bool Holds(Shift shift, Span span) => shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true;

    /// <summary>Running work lies in its people's shifts from now on: in those under way, breaks that have begun apart.</summary>
    private static bool RunsOn(Problem problem, Work work, Shift? shift) =>
        problem.Facts is { } facts && work.To > facts.Now && shift is not null && problem.Began(shift) && !problem.Ended(shift)
        && !Holds(shift.Break is { } rest && problem.Began(rest) ? shift with { Break = null } : shift, new(facts.Now, work.To));

    private static string Sentence(Problem problem, Work work, Hand hand, Shift? shift)
    {
        var at = $"{problem.Crew[hand.Person].Name} is wanted at {Say.Work(problem, work)} {Say.Span(problem, work.Span)}";
        return shift is null ? $"{at} and has no shift that night."
            : shift.Span.Contains(work.Span) ? $"{at}, over the break {Say.Span(problem, shift.Break!.Value)}."
            : $"{at}, outside the shift {Say.Span(problem, shift.Span)}.";
    }
}
