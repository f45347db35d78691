using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Form;

internal sealed class GridRule : IRule
{
    public string Id => "grid";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (!problem.Began(work) && Off(problem, work.Night, work.Span))
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} runs {Say.Span(problem, work.Span)}, off the "
                        + $"{problem.Grid.Minutes}-minute grid.");
        foreach (var shift in schedule.Shifts)
        {
            var name = problem.Crew[shift.Person].Name;
            if ((!problem.Began(shift) && Off(problem, shift.Night, shift.From, problem.ShiftGrid))
                || (!problem.Ended(shift) && Off(problem, shift.Night, shift.To, problem.ShiftGrid)))
                yield return new Breach(Id, Say.About(problem, shift),
                    $"{Say.Shift(problem, shift)} is off the {problem.ShiftGrid}-minute grid of shifts.");
            if (shift.Break is { } rest && !problem.Began(rest) && Off(problem, shift.Night, rest))
                yield return new Breach(Id, Say.About(problem, shift),
                    $"{name}'s break {Say.Span(problem, rest)} is off the "
                        + $"{problem.Grid.Minutes}-minute grid.");
        }
    }

    private static bool Off(Problem problem, int night, Span span) =>
        Off(problem, night, span.From, problem.Grid.Minutes) || Off(problem, night, span.To, problem.Grid.Minutes);

    private static bool Off(Problem problem, int night, int minute, int grid) =>
        (minute - problem.Nights[night].Opens) % grid != 0;
}
