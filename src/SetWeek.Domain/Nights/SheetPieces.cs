using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work.Gates;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Nights;

/// <summary>The pieces of work of a night, as its sheet shows them. Work that the week has dropped is left out.</summary>
internal sealed class SheetPieces
{
    private readonly StoreWeek week;
    private readonly CrewFile crew;
    private readonly PieceNumbers numbers;
    private readonly NightMargins margins;
    private readonly Direction? direction;
    private readonly string night;
    private readonly List<WorkKey> putOff;

    public SheetPieces(StoreWeek week, CrewFile crew, PlannedNight planned, NightMargins margins, Direction? direction)
    {
        (this.week, this.crew, this.margins, this.direction) = (week, crew, margins, direction);
        (numbers, night) = (week.Published!.Pieces, planned.Night);
        putOff = [.. margins.PutOff.Where(key => !HasBegun(week.ReportedWork.StatusOf(key)))];
        InOrder = [.. planned.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant())
            .Select(PieceOf).OfType<SheetPiece>()];
    }

    public IReadOnlyList<SheetPiece> InOrder { get; }

    /// <summary>Whether work was begun and not finished. Work that is blocked before its start was not begun.</summary>
    public static bool IsUnderWay(SheetReport? report) =>
        report is { State: ReportedState.Running or ReportedState.Paused } or { State: ReportedState.Blocked, From: not null };

    /// <summary>Whether the person does the piece: as reported, otherwise as planned.</summary>
    public static bool IsOf(SheetPiece piece, string person) => CompanyOf(piece).Any(other => other.Person == person);

    public static IReadOnlyList<SheetPerson> PartnersOf(SheetPiece piece, string person) =>
        [.. CompanyOf(piece).Where(other => other.Person != person)];

    private static IReadOnlyList<SheetPerson> CompanyOf(SheetPiece piece) => piece.Report?.People ?? piece.People;

    private SheetPiece? PieceOf(PlannedWork work)
    {
        var key = PieceNumbering.KeyOf(work, night);
        var task = work.Task is { } id
            ? week.Week.Tasks.FirstOrDefault(task => task.Id == id && work.Stint <= task.Stints) : null;
        if (numbers.Of(key, night) is not { } number || (work.CleanDown is null && task is null)) return null;
        var status = week.ReportedWork.StatusOf(key);
        var margin = margins.Pieces.GetValueOrDefault(key);
        var equipment = task is not null && work.Mode is { } mode && mode < task.Modes.Count ? task.Modes[mode].Equipment : [];
        bool Asks(Gate gate) => gate.AppliesTo(task?.Traits ?? [], equipment.Select(use => use.Id));
        var zone = work.CleanDown ?? task!.Zone;
        return new SheetPiece(number, work.Task, task is null ? null : work.Stint, task?.Stints, work.CleanDown,
            task?.Name ?? "Clean-down", task?.Display, zone, NightSheets.ZoneName(week, zone),
            [.. work.People.Select(person => NightSheets.PersonOf(crew, person.Person))], null, work.From, work.To,
            status is null ? null : ReportOf(status, work),
            HasBegun(status) ? null : margin?.LatestStart,
            status?.State == WorkState.Done ? null : margin?.LatestEnd,
            [.. (margin?.Frees ?? []).Select(freed => numbers.Of(freed, night)).OfType<int>()],
            putOff.IndexOf(key) is >= 0 and var place ? place + 1 : null,
            task?.Cautions ?? [], task?.Steps ?? [],
            [.. task?.Checks ?? [], .. UsualGates.Known.After.Where(Asks).Select(gate => gate.Text)],
            [.. equipment.Select(use => new SheetEquipment(use.Id, use.Count))],
            task is null ? [] : LinesByCarton(task),
            [.. UsualGates.Known.Before.Where(Asks)
                .Select(gate => new SheetGate(gate.Id, gate.Text,
                    gate.Read == Gate.NoSource ? gate.Citation : $"{gate.Citation} ({gate.Read})"))],
            UsualGates.Known.Air is var air && air.Traits.Intersect(task?.Traits ?? []).Any()
                ? new SheetAir(air.LeastDegreesCelsius, air.MostDegreesCelsius, air.MostMoisturePercent, air.Citation) : null)
        {
            Showing = task is not null && week.MustBeShown.Contains(task.Display) ? SheetShowing.Of(week, crew, task.Display,
                status?.People ?? work.People.Select(person => person.Person)) : null,
            Drying = task is null ? [] : status?.State == WorkState.Done ? DryingOf(task) : DriedBefore(task),
            Cards = [.. (direction?.Cards ?? []).Where(card => task is not null && card.Tasks.Contains(task.Id))
                .Select(card => new SheetCard(card.Id, card.Name, card.Tools))],
        };
    }

    /// <summary>Of several successors, the longest drying time counts.</summary>
    private IReadOnlyList<SheetDrying> DryingOf(WeekTask task) => SheetDrying.Of(week, task.Id,
        week.Week.Tasks.SelectMany(other => other.After).Where(precedence => precedence.Task == task.Id)
            .Select(precedence => precedence.DryMinutes).DefaultIfEmpty(0).Max()) is { } drying ? [drying] : [];

    private IReadOnlyList<SheetDrying> DriedBefore(WeekTask task) =>
        [.. task.After.Select(precedence => SheetDrying.Of(week, precedence.Task, precedence.DryMinutes)).OfType<SheetDrying>()];

    public static bool HasBegun(WorkStatus? status) =>
        status is { State: WorkState.Running or WorkState.Done } or { Paused: true }
            or { State: WorkState.Blocked, From: not null };

    private SheetReport ReportOf(WorkStatus status, PlannedWork planned) => new(
        status.ReportedState, status.From, status.To, status.RemainingMinutes, status.Paused ? null : status.Until, status.Reason,
        status.People?.Select(person => NightSheets.PersonOf(crew, person)).ToList(), status.Quantity?.Done, status.Quantity?.Of,
        status.By is { } by ? NightSheets.PersonOf(crew, by) : null,
        status.By is { } recorder && !(status.People ?? planned.People.Select(person => person.Person)).Contains(recorder),
        status.Gates, status.Checks, status.Air)
    {
        Block = status.Block, Photos = status.Photos,
        LateSignatures = [.. status.LateSignatures.Select(late => new SheetLateSignature(
            late.By is { } signer ? NightSheets.PersonOf(crew, signer) : null, late.Checks))],
    };

    /// <summary>
    /// Kits are in the order of the task's needs, and the lines of one kit in the order of their first cartons.
    /// </summary>
    private IReadOnlyList<SheetKitLine> LinesByCarton(WeekTask task) =>
        [.. task.Needs.SelectMany(LinesOf).GroupBy(line => line.Kit).SelectMany(kit => kit.OrderBy(FirstCartonOf))];

    private int FirstCartonOf(SheetKitLine line) => line.Cartons is [var first, ..]
        ? direction!.CartonsOf(line.Kit).Index().First(carton => carton.Item.Mark == first).Index : int.MaxValue;

    private IEnumerable<SheetKitLine> LinesOf(KitRequirement need)
    {
        if (week.Week.Kits.FirstOrDefault(kit => kit.Id == need.Kit) is not { } kit) return [];
        SheetKitLine Line(KitLine? line) => new(kit.Id, kit.Name, line?.Item ?? need.Item, need.Item is null ? null : need.Count,
            line?.Expected, line?.Received, line?.Damaged, line?.Settled ?? false, kit.Eta,
            week.Arrivals.TryGetValue(kit.Id, out var arrived) ? arrived : null)
        {
            Cartons = direction?.MarksOf(kit.Id, line?.Item ?? need.Item) ?? [],
        };
        var lines = kit.Lines.Where(line => need.Item is null || line.Item == need.Item).ToArray();
        return lines.Length == 0 ? [Line(null)] : lines.Select(Line);
    }
}
