using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class BreakRule : IRule
{
    public string Id => "break";

    public void Post(ExactModel model)
    {
        foreach (var duty in model.OpenDuties())
        {
            var person = model.Problem.Crew[duty.Person];
            if (duty.Begun?.Break is { } taken && taken.From < model.Now)
            {
                if (person.BreakAfter < Problem.Never) model.EndsBy(duty, taken.To + person.BreakAfter);
                continue;
            }
            if (person.BreakAfter == Problem.Never)
            {
                model.Deny(duty.Break);
                continue;
            }
            var most = model.Down(person.BreakAfter);
            model.AtLeast(duty.Length - LinearExpr.Term(duty.Break, most + 1), 0);
            model.AtMost(duty.To - duty.BreakFrom, most + duty.BreakSize, duty.Break);
            if (duty.Begun is null || EarliestBreak(model, duty) - duty.Begun.From <= person.BreakAfter)
                model.AtMost(duty.BreakFrom - duty.From, most, duty.Break);
            if (duty.Begun is null) model.AtMost(duty.Length, most, duty.Break.Not());
            else
            {
                // Without a break only where the shift ends as soon as it can.
                var latest = Math.Max(model.Up(duty.Begun.From) + most, model.Up(model.EarliestEnd(duty)));
                model.AtMost(duty.To, latest, duty.Break.Not());
            }
        }
    }

    private static int EarliestBreak(ExactModel model, ExactDuty duty) => model.Problem.NextSlot(duty.Night, model.Jobs
        .Where(job => job.Begun && job.Fixed!.Night == duty.Night && model.IsYes(job.People[duty.Person]))
        .Select(job => job.Fixed!.To).Append(model.Now).Max());

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var (person, needed) = (problem.Crew[shift.Person], shift.Span.Minutes > problem.Crew[shift.Person].BreakAfter);
            if (shift.Break is not { } rest)
            {
                if (needed)
                    yield return Of(problem, shift,
                        $"{person.Name}'s shift is {Say.Length(shift.Span.Minutes)} and has no break; one of "
                            + $"{Say.Length(person.BreakMinutes)} is due after {Say.Length(person.BreakAfter)}.",
                        problem.EndsAsSoonAsItCan(shift));
                continue;
            }
            var (ended, begun) = (problem.Ended(shift), problem.Began(rest));
            if (!needed)
                yield return Of(problem, shift,
                    $"{person.Name}'s shift is {Say.Length(shift.Span.Minutes)}, too short for a break, and has one.",
                    ended || begun);
            if (needed && rest.Minutes != person.BreakMinutes)
                yield return Of(problem, shift,
                    $"{person.Name}'s break is {Say.Length(rest.Minutes)} and should be {Say.Length(person.BreakMinutes)}.",
                    ended || begun);
            if (!shift.Span.Contains(rest))
                yield return Of(problem, shift,
                    $"{person.Name}'s break {Say.Span(problem, rest)} is not in the shift.",
                    ended || begun);
            if (needed && rest.From - shift.From > person.BreakAfter)
                yield return Of(problem, shift,
                    $"{person.Name} is on shift {Say.Length(rest.From - shift.From)} before the break; "
                        + $"{Say.Length(person.BreakAfter)} is the most.",
                    ended || begun || Earliest(problem, schedule, shift) - shift.From > person.BreakAfter);
            if (needed && shift.To - rest.To > person.BreakAfter)
                yield return Of(problem, shift,
                    $"{person.Name} is on shift {Say.Length(shift.To - rest.To)} after the break; "
                        + $"{Say.Length(person.BreakAfter)} is the most.",
                    ended || (begun && problem.EndsAsSoonAsItCan(shift)));
        }
    }

    /// <summary>First moment at which a break can still begin: not before now, nor before the end of running work.</summary>
    private static int Earliest(Problem problem, Schedule schedule, Shift shift)
    {
        if (!problem.Began(shift)) return shift.From;
        var earliest = problem.Facts!.Now;
        foreach (var work in schedule.Work)
            if (problem.Began(work) && work.Night == shift.Night && work.People.Any(hand => hand.Person == shift.Person))
                earliest = Math.Max(earliest, work.To);
        return problem.NextSlot(shift.Night, earliest);
    }

    private Breach Of(Problem problem, Shift shift, string sentence, bool onlyFacts) =>
        new(Id, Say.About(problem, shift), sentence) { OnlyFacts = onlyFacts };
}
