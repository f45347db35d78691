using System.Globalization;
using System.Text.Json;
using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Nights.Pieces;

/// <summary>A night for a page: its sheet, who reads it, and what that person may do.</summary>
/// <param name="Place">The direction and the store.</param>
/// <param name="Week">The id of the week.</param>
/// <param name="Direction">The id of the direction.</param>
/// <param name="Whole">The sheet of all people; the same where the sheet is not narrowed.</param>
/// <param name="Me">The id of the reader.</param>
/// <param name="Token">The anti-forgery token; null for a reader without a session, who gets no forms.</param>
/// <param name="NewId">Makes the id of a report.</param>
public sealed record NightView(
    string Place, string Week, string Direction, NightSheet Sheet, NightSheet Whole, Frame.Reader Who, Role Role, string Me,
    string? Token, Func<string> NewId)
{
    /// <summary>The view of a night's sheet in which a place is stopped.</summary>
    public const string NotSafeView = "not-safe";

    /// <summary>The issue that changes a shift of the reader, who has not answered yet; null if there is none.</summary>
    public int? IssueToAnswer { get; init; }

    /// <summary>The places of the store, by id and name.</summary>
    public required IReadOnlyList<(string Id, string Name)> Zones { get; init; }

    /// <summary>Whether the reader has a night of their own: somebody of the week's crew, and no lead.</summary>
    public required bool HasOwnNight { get; init; }

    public string Address => $"/weeks/{Week}/nights/{Sheet.Night}";

    public IReadOnlyList<Frame.Link> Links => WeekLinks.Of(Week, Direction, Role, "Tonight");

    /// <summary>Whether the reader records for others.</summary>
    public bool MayRecord => Role == Role.Lead && Token is not null;

    /// <summary>Whether the reader may see who is there, and what is left at the end of the night.</summary>
    public bool SeesPresence => Role is Role.Lead or Role.Crew;

    /// <summary>The reader's own night, or the whole one.</summary>
    public string Home => HasOwnNight ? $"{Address}/sheet?person={Me}" : $"{Address}/sheet";

    /// <summary>The page on which a place is stopped because it is not safe; null for a reader who may not.</summary>
    public string? NotSafe => MayStop ? NotSafeIn(Address) : null;

    /// <summary>The page on which everybody in the store stops a place.</summary>
    /// <param name="night">The address of the night.</param>
    public static string NotSafeIn(string night) => $"{night}/sheet?view={NotSafeView}";

    /// <summary>Whether the reader may stop a place: everybody in the store.</summary>
    public bool MayStop => Role is Role.Lead or Role.Crew && Token is not null;

    /// <summary>The page after an act: the reader's own night, or the piece in the whole one.</summary>
    public string AfterOf(SheetPiece piece) => HasOwnNight ? Home : $"{Home}#n{piece.Number}";

    public string AddressOf(SheetPiece piece, string act) => $"{Address}/pieces/{piece.Number}?act={act}";

    /// <summary>
    /// The page with the technique cards of the piece's display; null if no card is for its task, or the reader may not open it.
    /// </summary>
    public string? CardsOf(SheetPiece piece) => $"/directions/{Direction}" is var direction && piece.Cards.Count > 0
        && Links.Any(link => link.Address == direction) ? $"{direction}?display={piece.Display}" : null;

    /// <summary>The page on which a snag of the piece is raised. It leads back to the night.</summary>
    public string SnagOf(SheetPiece piece) =>
        $"/weeks/{Week}/snags/new?piece={piece.Number}&zone={Uri.EscapeDataString(piece.Zone)}"
        + $"&then={Uri.EscapeDataString(AfterOf(piece))}";

    /// <summary>The page on which is asked what the blocked piece waits for.</summary>
    public string QuestionOf(SheetPiece piece) =>
        $"/weeks/{Week}/questions?task={Uri.EscapeDataString(piece.Task!)}&block={Uri.EscapeDataString(piece.Report!.Block!)}";

    /// <summary>Whether the reader reports of the piece: crew of their own, a lead of all.</summary>
    public bool MayActOn(SheetPiece piece) =>
        MayRecord || Role == Role.Crew && Token is not null && CompanyOf(piece).Any(person => person.Person == Me);

    /// <summary>Who does the piece: as reported, otherwise as planned.</summary>
    public static IReadOnlyList<SheetPerson> CompanyOf(SheetPiece piece) => piece.Report?.People ?? piece.People;

    /// <summary>The stop under which nothing starts at the piece's place; null for none.</summary>
    public SheetStop? StopOf(SheetPiece piece) =>
        Sheet.Stops.FirstOrDefault(stop => stop.Zone is null || stop.Zone == piece.Zone);

    /// <summary>From when on times of day count that a form states (<see cref="FormFields.Night"/>).</summary>
    public string FormNight => string.Create(CultureInfo.InvariantCulture,
        $"{Sheet.Opens.LocalDateTime.PlusHours(-6):uuuu'-'MM'-'dd'T'HH':'mm} {Sheet.TimeZone}");

    /// <summary>In a night with a clock change the offset is added, because one local hour may occur twice.</summary>
    public string Time(OffsetDateTime time) => WeekLabels.Time(time, ClocksChange);

    /// <summary>
    /// Until when the piece has to begin or, once it is begun, to end, so that the night still holds; the two halves of a
    /// sentence. Null if that is not known, or the piece is done.
    /// </summary>
    public (string Until, string Then)? LimitOf(SheetPiece piece) => piece switch
    {
        { LatestStart: { } start } when IsPast(start) => ($"It should have begun by {Time(start)}", MayNotHold),
        { LatestStart: { } start } => ($"Start no later than {Time(start)}", StillHolds),
        { LatestEnd: { } end } when IsPast(end) => ($"It should have ended by {Time(end)}", MayNotHold),
        { LatestEnd: { } end } => ($"End no later than {Time(end)}", StillHolds),
        _ => null,
    };

    private const string StillHolds = "then the night still holds", MayNotHold = "so the night may not hold";

    private bool IsPast(OffsetDateTime time) => time.ToInstant() < Sheet.AsOf.ToInstant();

    /// <summary>Whether the night is opened, and closed.</summary>
    public string Recorded => (Sheet.Opened, Sheet.Closed) switch
    {
        (_, { } closed) => $"Closed {Time(closed.At)} by {closed.By.Name}.",
        ({ } opened, _) => $"Opened {Time(opened.At)} by {opened.By.Name}. {opened.FirstAider.Name} gives first aid.",
        _ => "The night is not opened yet.",
    };

    public static IReadOnlyList<string> NamesOf(IReadOnlyList<SheetPerson> people) => [.. people.Select(person => person.Name)];

    public static string Names(IReadOnlyList<SheetPerson> people) => WeekLabels.Join(NamesOf(people));

    /// <summary>"Prove the ceiling points (120, Idris and Noor)".</summary>
    public string NameOf(int number) => Whole.Pieces.FirstOrDefault(piece => piece.Number == number) is { } piece
        ? $"{piece.Name} ({string.Join(", ", new[] { $"{number}", Names(CompanyOf(piece)) }.Where(text => text != ""))})"
            : $"No. {number}";

    public bool ClocksChange => Sheet.Opens.Offset != Sheet.Closes.Offset;

    /// <summary>"Nothing here can be put off …", or what to put off first.</summary>
    public string DropFirst()
    {
        var names = Sheet.DropFirst.Select(NameOf).ToList();
        return names.Count == 0 ? "Nothing here can be put off without holding up other work."
            : $"Put off first: {string.Join("; ", names)}. Never put off: what secures other work, clean-downs, the way out.";
    }
}

/// <summary>A piece of a night for a page.</summary>
public sealed record PieceView(NightView Night, SheetPiece Piece)
{
    public bool MayAct => Night.MayActOn(Piece);

    public bool IsCleanDown => Piece.Task is null;

    public bool IsUnderWay => Piece.Report is { State: ReportedState.Running or ReportedState.Paused }
        or { State: ReportedState.Blocked, From: not null };

    public bool IsDone => Piece.Report?.State == ReportedState.Done;

    /// <summary>Whether its display is still to be shown to somebody who does it.</summary>
    public bool IsToBeShown => Piece.Showing?.NotYet().Any() is true;

    /// <summary>Whether its display was shown to the person, or need not be.</summary>
    public bool IsShownTo(string person) => Piece.Showing?.NotYet().Any(other => other.Person == person) is not true;

    /// <summary>With whom the reader does it.</summary>
    public IReadOnlyList<SheetPerson> Partners =>
        [.. NightView.CompanyOf(Piece).Where(person => person.Person != (Night.Sheet.Order?.Person ?? Night.Me))];

    /// <summary>
    /// What the page's script knows a piece by (entered.js): its fields in forms, how it stands, its zone, and its address.
    /// </summary>
    public IReadOnlyDictionary<string, object> Data => new Dictionary<string, object>
    {
        ["data-work"] = JsonSerializer.Serialize(Fields),
        ["data-state"] = this switch
        {
            { IsDone: true } => "done",
            { IsUnderWay: true } => Piece.Report!.State == ReportedState.Running ? "running" : "interrupted",
            _ => "planned",
        },
        ["data-zone"] = Piece.Zone,
        ["data-address"] = $"{Night.Address}/pieces/{Piece.Number}",
    };

    /// <summary>The fields of a form that name the piece.</summary>
    public IReadOnlyDictionary<string, string> Fields => Piece.Task is { } task
        ? new Dictionary<string, string>
        {
            ["task"] = task, ["stint:number"] = string.Create(CultureInfo.InvariantCulture, $"{Piece.Stint}"),
            ["night"] = Night.Sheet.Night,
        }
        : new() { ["cleanDown"] = Piece.CleanDown!, ["night"] = Night.Sheet.Night };

    /// <summary>"No. 115, feature wall, with Jonah".</summary>
    public string Line => $"No. {Piece.Number}, {Piece.ZoneName}"
        + (Partners.Count == 0 ? "" : $", {(Night.Role == Role.Lead ? "" : "with ")}{NightView.Names(Partners)}");
}
