using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Nights;

/// <summary>
/// A night as its crew works it: who is there, and each piece of the published plan with what is reported of it. It has
/// nothing on pay, age or the reason of an absence. Times have the store's offset.
/// </summary>
/// <param name="Number">
/// The number with which those of its pieces begin; absent if it was added after the plan was published.
/// </param>
/// <param name="Plan">The id of the published plan.</param>
/// <param name="Issue">1 for the first plan of the week that was published, 2 for the next.</param>
/// <param name="PublishedBy">The id of the person; absent if it was published before this was recorded.</param>
/// <param name="AsOf">The time of the answer, by the clock of planning.</param>
/// <param name="Holds">Whether the plan keeps every rule with what is reported.</param>
/// <param name="Order">The order of the person who was asked for.</param>
/// <param name="Pieces">By start; of one person if one was asked for.</param>
/// <param name="DropFirst">The numbers of the pieces to put off when the night runs late, in that order.</param>
public sealed record NightSheet(
    string Week, string Night, int? Number, string TimeZone, OffsetDateTime Opens, OffsetDateTime Closes, string Plan, int Issue,
    string? PublishedBy, Instant? PublishedAt, OffsetDateTime AsOf, bool Holds, SheetPerson? Keyholder,
    IReadOnlyList<SheetBan> Bans, IReadOnlyList<SheetShift> Shifts, IReadOnlyList<SheetPerson> Absent,
    IReadOnlyList<SheetStop> Stops, SheetOrder? Order, IReadOnlyList<SheetPiece> Pieces, IReadOnlyList<int> DropFirst)
{
    /// <summary>Absent unless the night is opened.</summary>
    public SheetOpening? Opened { get; init; }

    /// <summary>Absent unless the night is closed.</summary>
    public SheetMark? Closed { get; init; }

    /// <summary>The sheet for readers outside the store: it does not say to whom a display was shown.</summary>
    public NightSheet WithoutShowings() => this with { Pieces = [.. Pieces.Select(piece => piece with { Showing = null })] };
}

/// <summary>When a night was opened, by whom, and who gives first aid in it.</summary>
public sealed record SheetOpening(OffsetDateTime At, SheetPerson By, SheetPerson FirstAider);

/// <summary>When something was recorded, and by whom.</summary>
public sealed record SheetMark(OffsetDateTime At, SheetPerson By);

/// <param name="Name">The id of somebody who is erased.</param>
public sealed record SheetPerson(string Person, string Name);

/// <summary>A time at which no work with the trait is done.</summary>
public sealed record SheetBan(string Trait, OffsetDateTime From, OffsetDateTime To);

/// <param name="HomeBy">
/// The latest time at which the person can leave that night, if it is before the night closes. The reason is not told.
/// </param>
public sealed record SheetShift(
    string Person, string Name, OffsetDateTime From, OffsetDateTime To, PlannedBreak? Break, OffsetDateTime? HomeBy);

/// <summary>A stop of work that no lead has lifted yet.</summary>
/// <param name="Id">The id of the report that stopped the work; it is lifted by this id.</param>
/// <param name="Zone">Absent: the whole store.</param>
public sealed record SheetStop(string Id, string? Zone, string? ZoneName, OffsetDateTime At);

/// <summary>The numbers of a person's pieces.</summary>
/// <param name="Behind">Done.</param>
/// <param name="Now">Begun and not done, also if blocked or paused.</param>
/// <param name="Next">Not begun, by start.</param>
/// <param name="Entries">The whole shift in order: pieces, the break, times without work, the end.</param>
public sealed record SheetOrder(
    string Person, string Name, IReadOnlyList<int> Behind, IReadOnlyList<int> Now, IReadOnlyList<int> Next,
    IReadOnlyList<OrderEntry> Entries);

/// <summary>A stint of a task, or the clean-down of a zone.</summary>
/// <param name="Number">Such as 115: the fifteenth piece of the first night. It stays with the piece.</param>
/// <param name="Stints">The number of stints of the task.</param>
/// <param name="Partners">Who is on it with the person who was asked for; absent if nobody was asked for.</param>
/// <param name="Report">What the floor has reported of it.</param>
/// <param name="LatestStart">The latest start with which the night still holds; absent once it has begun.</param>
/// <param name="LatestEnd">The latest end with which the night still holds; absent once it is done.</param>
/// <param name="Frees">The numbers of the pieces of the night that can begin once it is done.</param>
/// <param name="Drop">Its place among the pieces to put off when the night runs late, from 1; absent if it is none.</param>
/// <param name="Checks">Those of the task, then the usual ones for work of its kind.</param>
/// <param name="Kits">The lines of kits that it needs; those of one kit in the order of their first cartons.</param>
/// <param name="Gates">What is asked before it begins.</param>
/// <param name="Air">In which air it is done; absent if that does not matter.</param>
public sealed record SheetPiece(
    int Number, string? Task, int? Stint, int? Stints, string? CleanDown, string Name, string? Display, string Zone,
    string ZoneName, IReadOnlyList<SheetPerson> People, IReadOnlyList<SheetPerson>? Partners, OffsetDateTime From,
    OffsetDateTime To, SheetReport? Report, OffsetDateTime? LatestStart, OffsetDateTime? LatestEnd, IReadOnlyList<int> Frees,
    int? Drop, IReadOnlyList<string> Cautions, IReadOnlyList<string> Steps, IReadOnlyList<string> Checks,
    IReadOnlyList<SheetEquipment> Equipment, IReadOnlyList<SheetKitLine> Kits, IReadOnlyList<SheetGate> Gates, SheetAir? Air)
{
    /// <summary>
    /// To whom its display was shown; absent unless it is shown before its work begins, and for readers outside the store.
    /// </summary>
    public SheetShowing? Showing { get; init; }

    /// <summary>
    /// Of paint that is done: when it is likely to be dry. Of work that waits for paint to dry: the same of that paint.
    /// </summary>
    public IReadOnlyList<SheetDrying> Drying { get; init; } = [];

    /// <summary>The technique cards for its task; empty if the direction has none.</summary>
    public IReadOnlyList<SheetCard> Cards { get; init; } = [];

    /// <summary>"Build the steps, part 1 of 2"; the name alone if it is done in one go.</summary>
    public string NameAndPart() => $"{Name}{Part()}";

    /// <summary>", part 1 of 2"; empty if it is done in one go.</summary>
    public string Part() => Stints > 1 ? $", part {Stint} of {Stints}" : "";

    /// <summary>What is asked before it begins; empty once it has begun.</summary>
    public IReadOnlyList<SheetGate> GatesToSign() => Report?.From is null ? Gates : [];

    /// <summary>The checks that nobody has answered, once it is done.</summary>
    public IReadOnlyList<string> UnsignedChecks() => Report is not { State: ReportedState.Done } done ? []
        : [.. Checks.Except((done.Checks ?? []).Select(answer => answer.Check))];
}

/// <param name="To">The end of done work, or the expected end of running work of which somebody has said what is left.</param>
/// <param name="People">Who did it, where somebody has said so; otherwise the people of the plan did.</param>
/// <param name="Done">The pieces done so far, of <paramref name="Of"/>.</param>
/// <param name="By">Who recorded the last start or finish, and signs for the answers that were given with it.</param>
/// <param name="ByOther">Whether that was somebody who did not do it, such as the lead.</param>
/// <param name="Checks">What was found when it seemed done. With one that is not good it is not done.</param>
public sealed record SheetReport(
    ReportedState State, OffsetDateTime? From, OffsetDateTime? To, int? RemainingMinutes, OffsetDateTime? Until, string? Reason,
    IReadOnlyList<SheetPerson>? People, int? Done, int? Of, SheetPerson? By, bool ByOther, IReadOnlyList<GateAnswer>? Gates,
    IReadOnlyList<CheckAnswer>? Checks, AirReading? Air)
{
    /// <summary>The id of the report that blocks it, which a question may name; absent if it is not blocked.</summary>
    public string? Block { get; init; }

    /// <summary>The ids of the photographs of what was looked at or blocked it; absent if there is none.</summary>
    public IReadOnlyList<string>? Photos { get; init; }

    /// <summary>Who answered checks after the finish, in the order of the reports.</summary>
    public IReadOnlyList<SheetLateSignature> LateSignatures { get; init; } = [];
}

/// <summary>Checks that were answered after the finish.</summary>
/// <param name="By">Who signs for the answers; absent if nobody is known.</param>
/// <param name="Checks">How many.</param>
public sealed record SheetLateSignature(SheetPerson? By, int Checks);

/// <summary>A question that is answered, and signed, before work begins.</summary>
/// <param name="Citation">Where it is said, and how the source was read.</param>
public sealed record SheetGate(string Gate, string Text, string Citation);

/// <summary>The air in which the work is done. Outside, the lead is told first.</summary>
public sealed record SheetAir(int LeastDegreesCelsius, int MostDegreesCelsius, int MostMoisturePercent, string Citation);

/// <summary>What it uses of the store's equipment.</summary>
public sealed record SheetEquipment(string Equipment, int Count);

/// <summary>A line of a kit that a piece needs.</summary>
/// <param name="Item">Absent for a kit that lists no items.</param>
/// <param name="Needed">How many the task uses; absent if it needs the whole kit.</param>
/// <param name="Received">As counted, damaged ones included; absent if it is not counted.</param>
/// <param name="Settled">Whether a person decided to work with the good pieces there are.</param>
/// <param name="Eta">Store-local; absent if it is unknown.</param>
public sealed record SheetKitLine(
    string Kit, string KitName, string? Item, int? Needed, int? Expected, int? Received, int? Damaged, bool Settled,
    LocalDateTime? Eta, OffsetDateTime? Arrived)
{
    /// <summary>The marks of the cartons that hold some of it; empty if the direction does not say.</summary>
    public IReadOnlyList<string> Cartons { get; init; } = [];
}

/// <summary>A technique card of the direction that says how the work of a piece is done.</summary>
/// <param name="Card">Its id.</param>
public sealed record SheetCard(string Card, string Name, IReadOnlyList<string> Tools);
