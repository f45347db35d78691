using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Form;

/// <summary>
/// The grid rule: every start and end of work and of a break is a whole number of slots after its night opens; starts and
/// ends of shifts are also on the shift grid. Begun work, ended shifts, begun breaks and the start of a begun shift are
/// exempt.
/// </summary>
internal sealed class GridRule : IRule
{
    public RuleId Id => RuleId.Grid;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (!problem.HasBegun(work) && IsOffGrid(problem, work.Night, work.Span))
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} runs {RulePhrases.Span(problem, work.Span)}, off the "
                        + $"{problem.Grid.SlotMinutes}-minute grid.");
        foreach (var shift in schedule.Shifts)
        {
            var name = problem.Crew[shift.Person].Name;
            if ((!problem.HasBegun(shift) && IsOffGrid(problem, shift.Night, shift.From, problem.ShiftGridMinutes))
                || (!problem.HasEnded(shift) && IsOffGrid(problem, shift.Night, shift.To, problem.ShiftGridMinutes)))
                yield return new Breach(Id, RulePhrases.Subject(problem, shift),
                    $"{RulePhrases.Shift(problem, shift)} is off the {problem.ShiftGridMinutes}-minute grid of shifts.");
            if (shift.Break is { } rest && !problem.HasBegun(rest) && IsOffGrid(problem, shift.Night, rest))
                yield return new Breach(Id, RulePhrases.Subject(problem, shift),
                    $"{name}'s break {RulePhrases.Span(problem, rest)} is off the "
                        + $"{problem.Grid.SlotMinutes}-minute grid.");
        }
    }

    private static bool IsOffGrid(Problem problem, int night, Span span) =>
        IsOffGrid(problem, night, span.From, problem.Grid.SlotMinutes)
        || IsOffGrid(problem, night, span.To, problem.Grid.SlotMinutes);

    private static bool IsOffGrid(Problem problem, int night, int minute, int grid) =>
        (minute - problem.Nights[night].Opens) % grid != 0;
}
