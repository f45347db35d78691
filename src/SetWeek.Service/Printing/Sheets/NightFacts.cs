using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Nights;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>A night as the sheets print it: names, times and sentences that several sheets have in common.</summary>
/// <param name="Place">The direction and the store.</param>
/// <param name="Week">The week with its crew.</param>
/// <param name="Plan">The published plan, whose night the sheet is.</param>
/// <param name="Arrivals">For each kit that has come, when.</param>
public sealed record NightFacts(
    string Place, NightSheet Sheet, Week Week, Plan Plan, IReadOnlyDictionary<string, OffsetDateTime> Arrivals)
{
    /// <summary>A usual list of cautions is not complete, and says so on every side.</summary>
    private const string Safety = "The cautions are the usual ones of the trade and complete nowhere: local law and local codes, "
        + "the rules of the building and the makers' instructions come first. Work that needs a licensed or trained person is "
        + "done by one. Whoever sees a danger stops the work.";

    private readonly WeekLabels words = new(Week);

    /// <summary>The direction in the version of the week, for what it says to people alone; null if it is not known.</summary>
    public Direction? Direction { get; init; }

    /// <summary>By kit: the ids of those who counted it; empty for a reader from outside the store.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>> Counters { get; init; } =
        new Dictionary<string, IReadOnlyList<string>>();

    /// <param name="week">A week whose plan is published.</param>
    /// <param name="saysCounters">Whether the reader belongs to the store, and so may know who counted.</param>
    public static NightFacts Of(string place, StoreWeek week, CrewFile crew, NightSheet sheet, bool saysCounters) => new(place,
        // The planner reads a kit as late until it is counted; paper shows what is known of it.
        sheet, PlanningProblem.WeekOf(week, crew) with { Kits = week.Week.Kits }, week.Published!.Plan, week.Arrivals)
    {
        Counters = saysCounters
            ? week.Week.Kits.ToDictionary(kit => kit.Id, kit =>
                (IReadOnlyList<string>)[.. KitSheet.CountersOf(week, crew, kit.Id).Select(person => person.Id)]) : [],
    };

    /// <summary>The cartons in which a kit is sent, as its direction lists them.</summary>
    public IReadOnlyList<Carton> CartonsOf(string kit) => Direction?.CartonsOf(kit) ?? [];

    /// <summary>The marks of the cartons that hold some of an item: "P4, P5"; empty if the direction does not say.</summary>
    public string MarksOf(string kit, string item) => string.Join(", ", Direction?.MarksOf(kit, item) ?? []);

    /// <summary>The colours that a piece puts on; empty if the direction does not say.</summary>
    public string ColoursOf(SheetPiece piece) => string.Join("; ", (Direction?.Displays ?? [])
        .SelectMany(display => display.Colours).Where(colour => piece.Task is { } task && colour.Tasks.Contains(task))
        .Select(colour => colour.Name));

    /// <summary>The figures that are dressed or posed in pieces, each once.</summary>
    public IReadOnlyList<DirectedFigure> FiguresOf(IEnumerable<SheetPiece> pieces)
    {
        var tasks = pieces.Select(piece => piece.Task).OfType<string>().ToHashSet();
        return [.. (Direction?.Displays ?? []).SelectMany(display => display.Figures)
            .Where(figure => figure.Tasks.Any(tasks.Contains))];
    }

    /// <summary>
    /// How the displays of pieces are to look, by the direction: what each is, then each of its drawings in words.
    /// </summary>
    public IEnumerable<PaperBlock> LooksOf(IEnumerable<SheetPiece> pieces)
    {
        if (Direction is null) yield break;
        foreach (var id in pieces.Select(TaskOf).OfType<WeekTask>().Select(task => task.Display).Distinct())
            if (Direction.Displays.FirstOrDefault(display => display.Id == id) is { } display
                && (display.About is not null || display.Drawings.Count > 0))
                yield return new TextBlock($"{display.Name}.", string.Join(" ",
                    (string[])[.. display.About is { } about ? [about] : Array.Empty<string>(),
                        .. display.Drawings.Select(drawing => drawing.Shows)]));
    }

    public bool ClocksChange => Sheet.Opens.Offset != Sheet.Closes.Offset;

    public string Day => WeekLabels.Day(Sheet.Opens.LocalDateTime);

    public PaperSheet SheetOf(string title, IEnumerable<PaperBlock> blocks) =>
        new($"{title}, {Day}", Notes, [.. Warnings, .. blocks], Foot);

    public string Time(OffsetDateTime time) => WeekLabels.Time(time, ClocksChange);

    public string Hours(OffsetDateTime from, OffsetDateTime to) => $"{Time(from)}–{Time(to)}";

    /// <summary>With its day if it is neither in this night nor in the twelve hours after it.</summary>
    public string TimeAndDay(OffsetDateTime time)
    {
        var at = time.ToInstant();
        return Sheet.Opens.ToInstant() <= at && at < Sheet.Closes.ToInstant() + Duration.FromHours(12) ? Time(time)
            : DayAndTime(time.LocalDateTime);
    }

    /// <summary>A name that cannot be printed wholly has its id beside it.</summary>
    public string Name(SheetPerson person) => Typefaces.CanPrint(person.Name) ? person.Name : $"{person.Name} ({person.Person})";

    public string Name(string person) => Name(new SheetPerson(person, words.Person(person)));

    /// <summary>The first name, if nobody else of the night has it.</summary>
    public string Short(SheetPerson person)
    {
        var first = FirstName(person.Name);
        var isOnly = People.Count(other => FirstName(other.Name) == first) < 2;
        return isOnly && Typefaces.CanPrint(person.Name) ? first : Name(person);
    }

    public string Short(IEnumerable<SheetPerson> people) => string.Join(", ", people.Select(Short));

    /// <summary>Everybody who is on shift or at work in the night.</summary>
    public IReadOnlyList<SheetPerson> People => [.. Sheet.Shifts.Select(shift => new SheetPerson(shift.Person, shift.Name))
        .Concat(Sheet.Pieces.SelectMany(DoneBy)).DistinctBy(person => person.Person)];

    /// <summary>Who does a piece: as reported, otherwise as planned.</summary>
    public static IReadOnlyList<SheetPerson> DoneBy(SheetPiece piece) => piece.Report?.People ?? piece.People;

    public WeekTask? TaskOf(SheetPiece piece) => words.Task(piece.Task);

    public SheetPiece? Piece(int number) => Sheet.Pieces.FirstOrDefault(piece => piece.Number == number);

    public static bool IsDone(SheetPiece piece) => piece.Report?.State == ReportedState.Done;

    public static string Began(SheetPiece piece, NightFacts facts) => piece.Report?.From is { } from ? facts.Time(from) : "";

    public static string Ended(SheetPiece piece, NightFacts facts) =>
        IsDone(piece) && piece.Report!.To is { } to ? facts.Time(to) : "";

    /// <summary>Until when what the piece made dries or its place is closed; null if it does neither.</summary>
    public OffsetDateTime? RestsUntil(SheetPiece piece) => ZoneRest.Of(Week, Plan.Nights)
        .Where(rest => rest.Task == piece.Task && rest.From.ToInstant() == piece.To.ToInstant())
        .Select(rest => (OffsetDateTime?)rest.To).OrderBy(until => until!.Value.ToInstant()).LastOrDefault();

    /// <summary>The planned work that waits for the task of the piece, the first of it first.</summary>
    public IEnumerable<PlannedWork> WaitingFor(SheetPiece piece) => Plan.Nights.SelectMany(night => night.Work)
        .Where(work => words.Task(work.Task) is { } task && task.After.Any(before => before.Task == piece.Task))
        .OrderBy(work => work.From.ToInstant());

    public string WorkName(PlannedWork work) => words.Work(work);

    /// <summary>"no noisy work from 22:30".</summary>
    public IEnumerable<string> Bans => Sheet.Bans.Select(ban =>
        (ban.From.ToInstant() <= Sheet.Opens.ToInstant(), ban.To.ToInstant() >= Sheet.Closes.ToInstant()) switch
        {
            (true, true) => $"No {ban.Trait} work.",
            (true, false) => $"No {ban.Trait} work until {Time(ban.To)}.",
            (false, true) => $"No {ban.Trait} work from {Time(ban.From)}.",
            _ => $"No {ban.Trait} work from {Time(ban.From)} to {Time(ban.To)}.",
        });

    /// <summary>"Monday 8 March, 16:00".</summary>
    public static string DayAndTime(LocalDateTime local) => $"{WeekLabels.Day(local)}, {WeekLabels.Time(local)}";

    public string Keys => Sheet.Keyholder is { } keyholder ? $"{Name(keyholder)} has the keys." : "Nobody has the keys.";

    private IReadOnlyList<string> Notes =>
    [
        Place, Sheet.PublishedAt is { } at ? $"Issue {Sheet.Issue}, {DayAndTime(at)}{By}" : $"Issue {Sheet.Issue}",
        $"Printed {DayAndTime(Sheet.AsOf.LocalDateTime)}",
    ];

    private string By => Sheet.PublishedBy is { } by ? $", by {Name(by)}" : "";

    private IReadOnlyList<string> Foot =>
    [
        Safety, $"Times are the store's own: {Sheet.TimeZone}. No codes on paper.",
        .. IsPrintable ? Array.Empty<string>()
            : ["□ stands for a character that this print does not have. The id of the person is in brackets."],
    ];

    private bool IsPrintable => Sheet.Pieces.SelectMany(piece => piece.Steps.Concat(piece.Checks).Concat(piece.Cautions)
            .Append(piece.Name).Append(piece.ZoneName))
        .Concat(People.Concat(Sheet.Absent).Select(person => person.Name))
        .Concat(Counters.Values.SelectMany(people => people).Select(words.Person)).Concat(DirectionTexts).All(Typefaces.CanPrint);

    private IEnumerable<string> DirectionTexts => Direction is null ? []
        : Direction.Displays.SelectMany(display => display.Drawings.Select(drawing => drawing.Shows).Append(display.About ?? ""))
            .Concat(Direction.Displays.SelectMany(display => display.Colours.Select(colour => colour.Name).Concat(display.Figures
                .SelectMany(figure =>
                    figure.Wears.Append(figure.Name).Append(figure.Pose ?? "").Append(figure.Accessory ?? "")))))
            .Concat(Direction.Kits.SelectMany(kit => kit.Cartons).SelectMany(carton => carton.Holds.Append(carton.Mark)));

    /// <summary>What anybody has to know before anything else on a sheet.</summary>
    private IEnumerable<PaperBlock> Warnings
    {
        get
        {
            if (ClocksChange)
                yield return new TextBlock(ClockChange, "Times carry their difference from UTC.");
            if (!Sheet.Holds)
                yield return new TextBlock("The plan no longer holds with what is reported.", "The lead decides what to change.");
            if (Sheet.Stops.Count > 0)
                yield return new CautionBlock([.. Sheet.Stops.Select(stop => $"Stopped since {Time(stop.At)}: "
                    + $"{stop.ZoneName ?? "the whole store"}. Nothing starts there until a lead lifts it.")]);
        }
    }

    private string ClockChange
    {
        get
        {
            var zone = DateTimeZoneProviders.Tzdb[Sheet.TimeZone];
            var change = zone.GetZoneInterval(Sheet.Closes.ToInstant()).Start.WithOffset(Sheet.Opens.Offset);
            var minutes = (Sheet.Closes.Offset.Seconds - Sheet.Opens.Offset.Seconds) / 60;
            return $"The clocks go {(minutes > 0 ? "forward" : "back")} {Math.Abs(minutes)} minutes tonight, "
                + $"at {WeekLabels.Time(change, true)}.";
        }
    }

    private string DayAndTime(Instant at) => DayAndTime(at.InZone(DateTimeZoneProviders.Tzdb[Sheet.TimeZone]).LocalDateTime);

    private static string FirstName(string name) => name.Split(' ', 2)[0];
}
