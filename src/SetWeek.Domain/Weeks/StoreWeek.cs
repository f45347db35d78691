using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>The state of a set week of one store, folded from its events.</summary>
public sealed partial record StoreWeek
{
    public required string Direction { get; init; }
    public required long DirectionVersion { get; init; }

    /// <summary>The current week without its crew, whose personal data is in a document.</summary>
    public required Week Week { get; init; }

    public required ImmutableList<string> Crew { get; init; }

    /// <summary>
    /// How the direction, in the version of the week, fits the store. <see cref="WeekScoping"/> is what is so now.
    /// </summary>
    public required IReadOnlyList<ScopingDecision> Scoping { get; init; }

    /// <summary>The people who are absent, each with the night.</summary>
    public ImmutableHashSet<(string Person, string Night)> Absences { get; init; } = [];

    /// <summary>For each kit, when its first part arrived.</summary>
    public ImmutableDictionary<string, OffsetDateTime> Arrivals { get; init; } =
        ImmutableDictionary<string, OffsetDateTime>.Empty;

    /// <summary>By arrived kit: the store-local time by which its lines will be counted.</summary>
    public ImmutableDictionary<string, LocalDateTime> CountExpected { get; init; } =
        ImmutableDictionary<string, LocalDateTime>.Empty;

    /// <summary>When each line was last counted. An older count that arrives later changes nothing.</summary>
    public ImmutableDictionary<(string Kit, string Item), CountTime> CountedAt { get; init; } =
        ImmutableDictionary<(string, string), CountTime>.Empty;

    /// <summary>The questions that were asked, by id.</summary>
    public ImmutableSortedDictionary<string, WeekQuestion> Questions { get; init; } =
        ImmutableSortedDictionary.Create<string, WeekQuestion>(StringComparer.Ordinal);

    /// <summary>By the id of a memo of head office that the lead has read: the first reading.</summary>
    public ImmutableSortedDictionary<string, MemoRead> MemosRead { get; init; } =
        ImmutableSortedDictionary.Create<string, MemoRead>(StringComparer.Ordinal);

    public PublishedPlan? Published { get; init; }

    /// <summary>By the number of an issue of the plan: whom it concerns, and who of them knows.</summary>
    public ImmutableSortedDictionary<int, IssueNotifications> Notifications { get; init; } =
        ImmutableSortedDictionary<int, IssueNotifications>.Empty;

    public ReportedWork ReportedWork { get; init; } = ReportedWork.Empty;

    /// <summary>
    /// How many of the last events only say that somebody has read something: their changes, or a memo. No decision that asks for
    /// a version depends on them, so they do not overtake a decision on the week before them.
    /// </summary>
    public int TrailingReceipts { get; private init; }

    public string Id => Week.Id;

    public static StoreWeek? Evolve(StoreWeek? week, IWeekEvent e) => Next(week, e) is not { } next ? null
        : next with { TrailingReceipts = e is ChangesSeen or MemoRead ? next.TrailingReceipts + 1 : 0 };

    private static StoreWeek? Next(StoreWeek? week, IWeekEvent e) => (week, e) switch
    {
        (null, WeekOpened opened) => Open(opened),
        (null, _) => null,
        // The plan by which the store works is apart from the facts: taking a fact back leaves it as it is.
        (_, PlanPublished plan) => week with { Published = week.Publishing(plan), Notifications = week.Notifying(plan) },
        (_, INotificationEvent notification) => week.With(notification),
        (_, PlanBroken broken) => week.WithBroken(broken.PlanId, broken),
        (_, PlanHoldsAgain held) => week.WithBroken(held.PlanId, null),
        (_, PersonErased erased) => week.Taking(e).WithoutNotificationsTo(erased.Person),
        _ => week.Taking(e),
    };

    private static StoreWeek Open(WeekOpened opened) => new StoreWeek
    {
        Direction = opened.Direction, DirectionVersion = opened.DirectionVersion,
        Week = opened.Week, Crew = [.. opened.Crew], Scoping = opened.Scoping, Facts = new FactLog(opened),
        MustBeShown = [.. opened.MustBeShown ?? []],
    }.WithOrigins(opened);

    /// <summary>The state after a fact that counts.</summary>
    private static StoreWeek After(StoreWeek week, IWeekEvent e) => (week, e) switch
    {
        (_, IFloorReport report) => week.Reported(report),
        (_, KitCounted count) => count.Lines.Aggregate(week, (state, line) => state.Counted(count, line)),
        (_, KitExpected kit) when week.Arrivals.ContainsKey(kit.Kit) =>
            week with { CountExpected = week.CountExpected.SetItem(kit.Kit, kit.Eta) },
        (_, KitExpected kit) => week.WithEta(kit.Kit, kit.Eta),
        (_, KitDelayed kit) => week.WithEta(kit.Kit, kit.Eta),
        (_, KitLineSettled line) => week.WithLine(line.Kit, line.Item, old => old with { Settled = true }),
        (_, KitLineUnsettled line) => week.WithLine(line.Kit, line.Item, old => old with { Settled = false }),
        (_, AbsenceRetracted absent) => week with { Absences = week.Absences.Remove((absent.Person, absent.Night)) },
        (_, StopLifted stop) => week with { LiftedStops = week.LiftedStops.Add(stop.Stop) },
        (_, CrewJoined joined) => week with { Crew = week.Crew.Add(joined.Person) },
        (_, PersonAbsent absent) => week with { Absences = week.Absences.Add((absent.Person, absent.Night)) },
        (_, IWeekRevision revision) => week.Revised(revision),
        (_, QuestionAsked asked) => week with { Questions = week.Questions.SetItem(asked.Question, new WeekQuestion(asked)) },
        (_, QuestionAnswered answer) when week.Questions.TryGetValue(answer.Question, out var question) => week with
        {
            Questions = week.Questions.SetItem(answer.Question, question with { Answer = answer }),
        },
        (_, QuestionAnswered) => week,
        (_, MemoRead read) => week.MemosRead.ContainsKey(read.Memo) ? week
            : week with { MemosRead = week.MemosRead.Add(read.Memo, read) },
        (_, WeekHandedOver accepted) => week with { HandOvers = week.HandOvers.Add(accepted) },
        (_, HandOverWithdrawn withdrawn) =>
            week with { WithdrawnHandOvers = week.WithdrawnHandOvers.Add(withdrawn.HandOver) },
        // The crew's particulars lie in a document; a week is opened once.
        (_, CrewChanged or PersonErased or WeekOpened) => week,
        _ => throw new ArgumentException($"No state follows from {e.GetType().Name}; add its case.", nameof(e)),
    };

    private StoreWeek Reported(IFloorReport report) => report switch
    {
        KitArrived kit => Arrived(kit),
        WorkStopped stop => this with { Stops = Stops.SetItem(stop.Report, stop) },
        ReportRetracted => this,
        INightReport night => With(night),
        AreaLookedAt look => this with { AreaLooks = AreaLooks.Add(look) },
        DisplayShown shown => this with { Showings = Showings.Add(shown) },
        IWorkReport work => this with { ReportedWork = ReportedWork.With(work) },
        ISnagReport snag => this with { SnagReports = SnagReports.Add(snag) },
        _ => throw new ArgumentException($"No state follows from {report.GetType().Name}; add its case.", nameof(report)),
    };

    /// <summary>A kit counts as arrived when its first part arrives; its count shows what is missing.</summary>
    private StoreWeek Arrived(KitArrived kit)
    {
        var at = kit.EffectiveAt();
        if (Arrivals.TryGetValue(kit.Kit, out var before) && before.ToInstant() <= at.ToInstant()) return this;
        return WithEta(kit.Kit, StoreTime.Local(this, at)) with { Arrivals = Arrivals.SetItem(kit.Kit, at) };
    }

    private StoreWeek Counted(KitCounted count, CountedLine line)
    {
        var key = (count.Kit, line.Item);
        var at = new CountTime(count.EffectiveAt().ToInstant(), count.StatedAt().ToInstant(),
            count.Report ?? "")
            { By = count.By };
        if (CountedAt.TryGetValue(key, out var before) && before.IsAfter(at)) return this;
        return WithLine(count.Kit, line.Item, old => old with { Received = line.Received, Damaged = line.Damaged })
            with { CountedAt = CountedAt.SetItem(key, at) };
    }

    private StoreWeek WithEta(string kit, LocalDateTime? eta) => WithKit(kit, old => old with { Eta = eta });

    private StoreWeek WithLine(string kit, string item, Func<KitLine, KitLine> change) =>
        WithKit(kit, old => old with { Lines = [.. old.Lines.Select(line => line.Item == item ? change(line) : line)] });

    private StoreWeek WithKit(string id, Func<Kit, Kit> change) =>
        this with { Week = Week with { Kits = [.. Week.Kits.Select(kit => kit.Id == id ? change(kit) : kit)] } };
}
