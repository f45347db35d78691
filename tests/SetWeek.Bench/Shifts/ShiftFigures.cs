using SetWeek.Model.Problems;

namespace SetWeek.Bench.Shifts;

/// <summary>How the shifts of one plan look to the people who work them.</summary>
internal sealed class ShiftFigures
{
    /// <summary>A break that starts or ends this near to an end of its shift is of little use.</summary>
    private const int MinutesOfUselessBreak = 60;

    public ShiftFigures(Problem problem, Schedule schedule)
    {
        var work = schedule.WorkByStint(problem);
        Shifts = schedule.Shifts.Count;
        Breaks = schedule.Shifts.Count(shift => shift.Break is not null);
        UselessBreaks = schedule.Shifts.Count(shift => shift.Break is { } rest
            && (rest.From < shift.From + MinutesOfUselessBreak || rest.To > shift.To - MinutesOfUselessBreak));
        HandedOver = problem.Stints.Count(stint => stint.Number > 1 && work[stint.Index - 1] is { } before
            && work[stint.Index] is { } after && before.To == after.From
            && before.Assignments.Any(one => after.Assignments.All(other => other.Person != one.Person)));
        IdleMinutes = schedule.Shifts.Sum(shift => shift.PaidMinutes)
            - schedule.Work.Sum(piece => (long)piece.Span.Minutes * piece.Assignments.Count)
            - schedule.Keyholders.Count(keyholder => keyholder is not null)
                * ((problem.Rules.OpeningMinutes ?? 0) + (problem.Rules.ClosingMinutes ?? 0));
    }

    public int Shifts { get; }

    public int Breaks { get; }

    /// <summary>Breaks in the first or last hour of their shift.</summary>
    public int UselessBreaks { get; }

    /// <summary>Stints that follow the stint before without a gap, while somebody who did that one has left.</summary>
    public int HandedOver { get; }

    /// <summary>Paid minutes without work; the keyholders' opening and closing count as work.</summary>
    public long IdleMinutes { get; }
}
