using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Kits;

/// <summary>How a line of a kit stands.</summary>
public enum LineState
{
    NotCounted,

    /// <summary>Its good pieces are enough for the tasks that need it.</summary>
    Enough,

    /// <summary>Its good pieces are too few, and work waits.</summary>
    Short,

    /// <summary>Somebody has decided to go on with the pieces that are there.</summary>
    Settled,
}

/// <summary>A kit as whoever counts it, or waits for it, needs it. Times have the store's offset.</summary>
/// <param name="Eta">Store-local; absent if it is unknown.</param>
/// <param name="Counted">When a line was counted last.</param>
/// <param name="CountExpected">The store-local time by which the rest will be counted, if somebody has said one.</param>
/// <param name="FirstNeeded">The planned start of the first work that needs it.</param>
/// <param name="Waiting">The work that waits for it: for its arrival, for its count, or for pieces that are missing.</param>
public sealed record KitSheet(
    string Kit, string Name, LocalDateTime? Eta, OffsetDateTime? Arrived, OffsetDateTime? Counted, LocalDateTime? CountExpected,
    OffsetDateTime? FirstNeeded, IReadOnlyList<KitSheet.Line> Lines, IReadOnlyList<KitSheet.Piece> Waiting)
{
    /// <param name="Received">As counted, damaged ones included.</param>
    /// <param name="Good">The pieces that came and are not damaged.</param>
    /// <param name="Needed">The pieces that all tasks together need.</param>
    /// <param name="NeededBy">The work that needs this line.</param>
    public sealed record Line(
        string Item, int Expected, int? Received, int? Damaged, int? Good, int Needed, LineState State,
        IReadOnlyList<Piece> NeededBy);

    /// <summary>A piece of the published plan, or a task that it has no piece of.</summary>
    /// <param name="Number">Absent where no plan is published, or it leaves the task out.</param>
    public sealed record Piece(int? Number, string Task, string Name, OffsetDateTime? From);

    /// <summary>The names of those by whose counts the kit stands, for readers in the store.</summary>
    public IReadOnlyList<string>? CountedBy { get; init; }

    /// <summary>The kits of a week, in the order of the week.</summary>
    /// <param name="crew">Whose names it says; null for a reader from outside the store.</param>
    public static IReadOnlyList<KitSheet> AllOf(StoreWeek week, CrewFile? crew = null) =>
        [.. week.Week.Kits.Select(kit => Of(week, kit, crew))];

    /// <summary>Those by whose counts a kit stands, the first one first. Whoever is erased is left out.</summary>
    public static IReadOnlyList<CrewMember> CountersOf(StoreWeek week, CrewFile crew, string kit) =>
    [
        .. week.CountedAt.Where(count => count.Key.Kit == kit).OrderBy(count => count.Value.Effective)
            .ThenBy(count => count.Key.Item, StringComparer.Ordinal).Select(count => count.Value.By).OfType<string>().Distinct()
            .Select(crew.Find).OfType<CrewMember>(),
    ];

    /// <param name="crew">As in <see cref="AllOf"/>.</param>
    public static KitSheet Of(StoreWeek week, Kit kit, CrewFile? crew = null)
    {
        var needing = week.Week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id)).ToList();
        var missing = week.MissingOf(kit.Id);
        var isHere = week.Arrivals.ContainsKey(kit.Id);
        var waiting = isHere ? needing.Where(task => missing?.Barred.Contains(task.Id) ?? false) : needing;
        return new KitSheet(kit.Id, kit.Name, kit.Eta, isHere ? At(week, week.Arrivals[kit.Id].ToInstant()) : null,
            CountedAt(week, kit), week.CountExpected.TryGetValue(kit.Id, out var count) ? count : null,
            needing.SelectMany(task => PiecesOf(week, task)).Where(piece => piece.From is not null)
                .MinBy(piece => piece.From!.Value.ToInstant())?.From,
            [.. kit.Lines.Select(line => LineOf(week, kit, line, needing))],
            [
                .. waiting.SelectMany(task => PiecesOf(week, task, thatWait: true)).OrderBy(piece => piece.From is null)
                    .ThenBy(piece => piece.From?.ToInstant()),
            ])
        {
            CountedBy = crew is not null && CountersOf(week, crew, kit.Id) is { Count: > 0 } people
                ? [.. people.Select(person => person.Name)] : null,
        };
    }

    private static Line LineOf(StoreWeek week, Kit kit, KitLine line, IReadOnlyList<WeekTask> needing)
    {
        var needs = needing.SelectMany(task => task.Needs.Where(need => need.Kit == kit.Id && need.Item == line.Item)).ToList();
        var (good, needed) = (line.Received - (line.Damaged ?? 0), needs.Sum(need => need.Count));
        return new Line(line.Item, line.Expected, line.Received, line.Damaged, good, needed,
            line.Received is null ? LineState.NotCounted : line.Settled ? LineState.Settled
                : good < needed ? LineState.Short : LineState.Enough,
            [
                .. needing.Where(task => task.Needs.Any(need => need.Kit == kit.Id && (need.Item ?? line.Item) == line.Item))
                    .SelectMany(task => PiecesOf(week, task)),
            ]);
    }

    /// <summary>The pieces of a task in the published plan by start; without any, the task itself.</summary>
    /// <param name="thatWait">Whether pieces that are done are left out.</param>
    private static IReadOnlyList<Piece> PiecesOf(StoreWeek week, WeekTask task, bool thatWait = false)
    {
        var planned = (week.Published?.Plan.Nights ?? []).SelectMany(night => night.Work
            .Where(work => work.Task == task.Id).Select(work => (night.Night, Work: work)))
            .OrderBy(piece => piece.Work.From.ToInstant()).ToList();
        return planned.Count == 0 ? [new Piece(null, task.Id, task.Name, null)]
            :
            [
                .. planned.Where(piece => !thatWait || !IsDone(week, task, piece.Work.Stint ?? 1)).Select(piece => new Piece(
                    week.Published!.Pieces.Of(new WorkKey(task.Id, piece.Work.Stint ?? 1), piece.Night), task.Id,
                    task.Stints > 1 ? $"{task.Name}, part {piece.Work.Stint} of {task.Stints}" : task.Name, piece.Work.From)),
            ];
    }

    private static bool IsDone(StoreWeek week, WeekTask task, int stint) =>
        week.ReportedWork.StatusOf(new WorkKey(task.Id, stint))?.State == WorkState.Done;

    private static OffsetDateTime? CountedAt(StoreWeek week, Kit kit) => week.CountedAt
        .Where(count => count.Key.Kit == kit.Id).Select(count => (Instant?)count.Value.Effective).Max() is { } last
            ? At(week, last) : null;

    private static OffsetDateTime At(StoreWeek week, Instant time) => time.InZone(StoreTime.ZoneOf(week)).ToOffsetDateTime();
}
