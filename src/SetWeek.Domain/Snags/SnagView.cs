using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.Snags;

/// <summary>A snag as it is shown.</summary>
/// <param name="Report">The id of the report that says what it is, for a retraction or a correction.</param>
/// <param name="Where">The zone, display or piece by name.</param>
/// <param name="Area">The zone in which it is; absent if that is not known.</param>
/// <param name="What">What is wrong; absent if it is erased.</param>
/// <param name="Why">The cause, if somebody has said one.</param>
/// <param name="Due">The day by whose end it is to be put right.</param>
/// <param name="Safety">Whether somebody could be hurt by it.</param>
/// <param name="AgeDays">Days since it was raised.</param>
/// <param name="Acts">What was reported of it since, in the order of time.</param>
public sealed record SnagView(
    int Number, string Report, SnagState State, string Where, string? Zone, string? Display, int? Piece, string? Area,
    string? AreaName, string? What, string? Why, SnagView.OwnedBy Owner, LocalDate Due, bool Safety, SnagView.Teller RaisedBy,
    OffsetDateTime RaisedAt, int AgeDays, IReadOnlyList<string> Photos, IReadOnlyList<SnagView.Act> Acts)
{
    /// <param name="Name">The name of the person, or the owner in words.</param>
    public sealed record OwnedBy(SnagOwnerKind Kind, string Name, string? Person, string? Trade);

    /// <param name="Name">The id of somebody who is erased, or not of the crew.</param>
    public sealed record Teller(string Person, string Name);

    public enum ActKind { Fixed, NotFixed, HandedOn, AcceptedOpen }

    /// <param name="Owner">The owner to whom it was handed on.</param>
    /// <param name="Due">The day that it was given.</param>
    public sealed record Act(
        string Report, ActKind Kind, Teller By, OffsetDateTime At, OwnedBy? Owner, LocalDate? Due, string? Note,
        IReadOnlyList<string> Photos);

    /// <summary>The free texts by the id of the report; null for one that is erased or never was.</summary>
    public sealed record Texts(Func<string, string?> Said, Func<string, string?> Cause);

    public bool IsOpen() => State != SnagState.Fixed;

    /// <param name="texts">The free texts of the reports.</param>
    /// <param name="today">The day in the store.</param>
    public static SnagView Of(StoreWeek week, CrewFile crew, Texts texts, LocalDate today, SnagStatus snag)
    {
        var raised = snag.Raised;
        return new SnagView(snag.Number, raised.Report, snag.State, SnagPhrases.Place(week, raised), raised.Zone, raised.Display,
            raised.Piece, raised.Area, SnagPhrases.Area(week.Week, raised),
            texts.Said(raised.Report), texts.Cause(raised.Report),
            OwnerOf(crew, snag.Owner), snag.Due, raised.Safety, TellerOf(crew, raised.By), At(week, raised),
            AgeOf(raised, StoreTime.ZoneOf(week), today), raised.Photos ?? [],
            [.. snag.Acts.Select(act => ActOf(week, crew, texts, act))]);
    }

    /// <summary>The days since a snag was raised, by the calendar of the store.</summary>
    public static int AgeOf(SnagRaised raised, DateTimeZone zone, LocalDate today) => Math.Max(0, Period.DaysBetween(
        raised.EffectiveAt().ToInstant().InZone(zone).Date, today));

    private static Act ActOf(StoreWeek week, CrewFile crew, Texts texts, ISnagReport act) => new(
        act.Report, KindOf(act), TellerOf(crew, act.By), At(week, act),
        act is SnagHandedOn { Owner: { } owner } ? OwnerOf(crew, owner) : null, (act as SnagHandedOn)?.Due,
        texts.Said(act.Report), act.Photos ?? []);

    /// <summary>The time of a report in the zone of the store: a device may state it in another.</summary>
    private static OffsetDateTime At(StoreWeek week, ISnagReport report) =>
        report.EffectiveAt().ToInstant().InZone(StoreTime.ZoneOf(week)).ToOffsetDateTime();

    private static ActKind KindOf(ISnagReport act) => act switch
    {
        SnagFixed => ActKind.Fixed,
        SnagReopened => ActKind.NotFixed,
        SnagHandedOn => ActKind.HandedOn,
        SnagAcceptedOpen => ActKind.AcceptedOpen,
        _ => throw new ArgumentException($"{act.GetType().Name} is not shown; add its case.", nameof(act)),
    };

    private static OwnedBy OwnerOf(CrewFile crew, SnagOwner owner) => new(owner.Kind,
        owner.Person is { } person ? TellerOf(crew, person).Name : SnagPhrases.Owner(crew, owner), owner.Person, owner.Trade);

    private static Teller TellerOf(CrewFile crew, string person) => new(person, crew.Find(person)?.Name ?? person);
}
