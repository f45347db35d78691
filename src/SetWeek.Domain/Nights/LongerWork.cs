using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.RightShift;

namespace SetWeek.Domain.Nights;

/// <summary>
/// What follows if a piece of work takes longer than it should: which other pieces move, who would have to stay, and whether the
/// night still holds. The planner moves the published night to the right, in the planned order and with the planned people.
/// </summary>
/// <param name="End">When it would end without the minutes: as reported, as planned, or now if that is past.</param>
/// <param name="RemainingMinutes">What a report of it says from now on.</param>
/// <param name="SpareMinutes">How many minutes more the night allows; 0 if none.</param>
/// <param name="Moves">The pieces and breaks that begin later, by start.</param>
/// <param name="Stays">The people whose work would end after their shift.</param>
/// <param name="DropFirst">The numbers of the pieces to put off first.</param>
public sealed record LongerWork(
    int Number, int Minutes, OffsetDateTime End, OffsetDateTime NewEnd, int RemainingMinutes, int SpareMinutes, bool Holds,
    IReadOnlyList<LaterWork> Moves, IReadOnlyList<LaterLeave> Stays, IReadOnlyList<int> DropFirst)
{
    /// <summary>What longer work moves.</summary>
    /// <param name="week">A week whose plan is published.</param>
    /// <param name="sheet">The sheet of the night, of all people.</param>
    /// <param name="piece">A piece of the sheet that is not done.</param>
    /// <param name="minutes">How much longer it takes.</param>
    public static LongerWork Of(StoreWeek week, CrewFile crew, NightSheet sheet, SheetPiece piece, int minutes)
    {
        var expected = piece.Report?.To ?? (piece.Report?.From is { } from ? from.Plus(piece.To - piece.From) : piece.To);
        var end = Latest(expected, sheet.AsOf);
        var newEnd = end.PlusMinutes(minutes);
        var problem = Problem.Of(PlanningProblem.WeekOf(week, crew));
        var schedule = PlanConverter.ScheduleOf(problem, week.Published!.Plan);
        var numbers = sheet.Pieces.ToDictionary(known => NumberedKey(known, sheet.Night));
        var work = schedule.Work.First(planned => planned.Night == problem.NightOf(sheet.Night)
            && NightMargins.KeyOf(problem, planned) == NumberedKey(piece, sheet.Night));
        var late = (int)Math.Ceiling((newEnd.ToInstant() - piece.To.ToInstant()).TotalMinutes / problem.Grid.SlotMinutes)
            * problem.Grid.SlotMinutes;
        var shifted = late <= 0 ? schedule : LatestStarts.Shifted(problem, schedule, work, work.From + late);
        var known = Checker.Check(problem, schedule).Select(breach => (breach.Rule, breach.About)).ToHashSet();
        var open = shifted.Work.Zip(schedule.Work).Where(pair => pair.Second.Night == work.Night)
            .Select(pair => (Now: pair.First, Was: pair.Second,
                Piece: numbers.GetValueOrDefault(NightMargins.KeyOf(problem, pair.Second))))
            .Where(pair => pair.Piece is { Report: null or { State: not ReportedState.Done } }).ToList();
        return new LongerWork(piece.Number, minutes, end, newEnd,
            Math.Max(1, (int)Math.Ceiling((newEnd.ToInstant() - sheet.AsOf.ToInstant()).TotalMinutes)),
            piece.LatestEnd is { } latest ? Math.Max(0, (int)(latest.ToInstant() - end.ToInstant()).TotalMinutes) : 0,
            Checker.Check(problem, shifted).All(breach => known.Contains((breach.Rule, breach.About))),
            [.. open.Where(pair => pair.Piece!.Number != piece.Number && pair.Now.From > pair.Was.From)
                    .Select(pair => new LaterWork(pair.Piece!.Number, pair.Piece.Name, pair.Piece.ZoneName, pair.Piece.People,
                        problem.Grid.TimeOf(pair.Was.From), problem.Grid.TimeOf(pair.Now.From)))
                    .OrderBy(moved => moved.From.ToInstant()),
                .. LaterBreaks(problem, crew, schedule, shifted, work.Night)],
            StaysOf(problem, crew, shifted, open.Select(pair => (pair.Now, pair.Piece!.Number)), work.Night),
            [.. sheet.DropFirst.Where(number => number != piece.Number)]);
    }

    private static OffsetDateTime Latest(OffsetDateTime first, OffsetDateTime second) =>
        first.ToInstant() >= second.ToInstant() ? first : second;

    private static WorkKey NumberedKey(SheetPiece piece, string night) => piece.Task is { } task
        ? new WorkKey(task, piece.Stint ?? 1) : WorkKey.CleanDownOf(piece.CleanDown!, night);

    private static IEnumerable<LaterWork> LaterBreaks(
        Problem problem, CrewFile crew, Schedule schedule, Schedule shifted, int night) =>
        from pair in shifted.Shifts.Zip(schedule.Shifts)
        let rests = (Now: pair.First.Break ?? default, Was: pair.Second.Break ?? default)
        where pair.Second.Night == night && rests.Now.From > rests.Was.From
        select new LaterWork(null, "Break", null, [NightSheets.PersonOf(crew, problem.Crew[pair.Second.Person].Id)],
            problem.Grid.TimeOf(rests.Was.From), problem.Grid.TimeOf(rests.Now.From));

    /// <summary>For each person, the piece of work that ends last after the shift.</summary>
    private static IReadOnlyList<LaterLeave> StaysOf(
        Problem problem, CrewFile crew, Schedule shifted, IEnumerable<(ScheduledWork Work, int Number)> open, int night) =>
        [.. from pair in open
            from assignment in pair.Work.Assignments
            let shift = shifted.Shifts.FirstOrDefault(shift => shift.Night == night && shift.Person == assignment.Person)
            where shift is not null && pair.Work.To > shift.To
            group (pair, shift) by assignment.Person into own
            let last = own.MaxBy(late => late.pair.Work.To)
            orderby last.shift.To
            select new LaterLeave(NightSheets.PersonOf(crew, problem.Crew[own.Key].Id), last.pair.Number,
                problem.Grid.TimeOf(last.shift.To), problem.Grid.TimeOf(last.pair.Work.To))];
}

/// <summary>A piece of work, or a break, that begins later.</summary>
/// <param name="Number">Absent for a break.</param>
public sealed record LaterWork(
    int? Number, string Name, string? ZoneName, IReadOnlyList<SheetPerson> People, OffsetDateTime Was, OffsetDateTime From);

/// <summary>Somebody whose work would end after the shift. Nobody has to stay: the lead decides and asks.</summary>
/// <param name="Number">The piece that would keep the person.</param>
public sealed record LaterLeave(SheetPerson Person, int Number, OffsetDateTime ShiftEnds, OffsetDateTime WorkEnds);
