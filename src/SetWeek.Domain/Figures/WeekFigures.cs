using NodaTime;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Figures;

/// <summary>
/// How far a week is: what head office compares across stores. A pure function of the week's state, so figures can be computed
/// again at any time. What depends on the present time is in <see cref="WeekOutlook"/>.
/// </summary>
public sealed record WeekFigures
{
    public required string Week { get; init; }
    public required string Store { get; init; }
    public required string TimeZone { get; init; }
    public required string Direction { get; init; }
    public required long DirectionVersion { get; init; }

    /// <summary>Store-local.</summary>
    public required LocalDateTime Launch { get; init; }

    public required WeekStage Stage { get; init; }
    public string? PublishedPlan { get; init; }

    /// <summary>Displays that are to stand at the launch, and those of them whose tasks are all done.</summary>
    public required int Displays { get; init; }
    public required int DisplaysDone { get; init; }

    /// <summary>The tasks of these displays. A task with several stints is done when all of them are.</summary>
    public required int Tasks { get; init; }
    public required int TasksDone { get; init; }

    /// <summary>Stints and clean-downs that are under way, and those that are blocked.</summary>
    public required int Running { get; init; }
    public required int Blocked { get; init; }

    /// <summary>Kits that have not arrived, and arrived ones whose count keeps tasks waiting.</summary>
    public required int KitsAwaited { get; init; }
    public required int KitsIncomplete { get; init; }

    public int OpenQuestions { get; init; }

    /// <summary>People for whom the published plan changes something, and who are neither told nor have seen it.</summary>
    public int Uninformed { get; init; }

    /// <summary>People who have said that they cannot work a shift as the published plan changes it.</summary>
    public int Declined { get; init; }

    /// <summary>The time of the latest fact that the store has reported; null if there is none.</summary>
    public Instant? LastReport { get; init; }

    public required IReadOnlyList<NightHours> Nights { get; init; }

    /// <summary>Why the published plan no longer holds, without saying of whom; null if it holds, or none is published.</summary>
    public string? Broken { get; init; }

    /// <summary>The stops of work that no lead has lifted, the oldest first.</summary>
    public IReadOnlyList<OpenStop> Stops { get; init; } = [];

    /// <summary>The kits that tasks wait for, ordered by id.</summary>
    public IReadOnlyList<AwaitedKit> Kits { get; init; } = [];

    /// <summary>The displays that have an alternate, of which nothing is decided and on which no work has begun.</summary>
    public IReadOnlyList<OpenAlternate> Alternates { get; init; } = [];
    /// <summary>The night that was closed last; null if none was.</summary>
    public ClosedNight? LastClosed { get; init; }

    /// <summary>When the store accepted the finished week; null if it has not.</summary>
    public Instant? HandedOver { get; init; }

    public static WeekFigures Of(StoreWeek week)
    {
        var statuses = week.ReportedWork.Statuses.ToList();
        var done = statuses.Where(status => status.State == WorkState.Done).Select(status => status.Subject).ToHashSet();
        var expected = Expected(week);
        var tasks = week.Week.Tasks.Where(task => expected.Contains(task.Display)).ToList();
        var tasksDone = tasks.Where(task => IsDone(task, done)).Select(task => task.Id).ToHashSet();
        var displaysDone = tasks.GroupBy(task => task.Display).Count(of => of.All(task => tasksDone.Contains(task.Id)));
        var people = week.Published is { Issue.Number: var issue } ? week.Notifications[issue].People.Values.ToList() : [];
        return new WeekFigures
        {
            Week = week.Id,
            Store = week.Week.Store.Id,
            TimeZone = week.Week.Store.TimeZone,
            Direction = week.Direction,
            DirectionVersion = week.DirectionVersion,
            Launch = week.Week.Launch,
            Stage = week.Published is null ? WeekStage.Unplanned
                : statuses.Count == 0 ? WeekStage.Published
                : displaysDone == expected.Count ? WeekStage.Done : WeekStage.Begun,
            PublishedPlan = week.Published?.PlanId,
            Displays = expected.Count,
            DisplaysDone = displaysDone,
            Tasks = tasks.Count,
            TasksDone = tasksDone.Count,
            Running = statuses.Count(status => status.State == WorkState.Running),
            Blocked = statuses.Count(status => status is { State: WorkState.Blocked, Paused: false }),
            KitsAwaited = week.Week.Kits.Count(kit => !week.Arrivals.ContainsKey(kit.Id)),
            KitsIncomplete = week.Week.Kits.Count(kit => week.MissingOf(kit.Id) is not null),
            OpenQuestions = week.Questions.Values.Count(question => !question.IsAnswered),
            Uninformed = people.Count(person => person.IsUninformed),
            Declined = people.Count(person => person.Answer?.Answer == ChangesAnswer.Declined),
            LastReport = LastReportOf(week),
            Nights = [.. week.Week.Nights.Select(night => HoursOf(week, night))],
            Broken = week.Published?.Broken is { } broken ? NameRemoval.WithoutPeople(broken.Sentence) : null,
            Stops = [.. week.StandingStops.OrderBy(stop => stop.EffectiveAt().ToInstant()).Select(stop => new OpenStop(
                stop.Report, week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == stop.Zone)?.Name ?? stop.Zone,
                StoreTime.Local(week, stop.EffectiveAt())))],
            Kits = [.. WeekSummary.WaitingKitsOf(week).Select(kit =>
                new AwaitedKit(kit.Name, kit.Eta, kit.Arrived is not null))],
            Alternates = [.. AlternatesOf(week, statuses)],
            LastClosed = week.NightReports.Values.SelectMany(reports => reports).OfType<NightClosed>()
                .MaxBy(night => night.EffectiveAt().ToInstant()) is { } closed
                ? new ClosedNight(
                    closed.Night, StoreTime.AtStore(week, closed.EffectiveAt()), closed.ShutZones, closed.NotClean) : null,
            HandedOver = week.HandedOver?.At,
        };
    }

    private static NightHours HoursOf(StoreWeek week, Night night)
    {
        var work = week.Published?.Plan.Nights.FirstOrDefault(planned => planned.Night == night.Id)?.Work ?? [];
        return new NightHours(night.Opens, night.Closes)
        {
            Pieces = week.Published is null ? null : work.Count,
            WorkEnds = work.Count == 0 ? null : StoreTime.Local(week, work.MaxBy(piece => piece.To.ToInstant())!.To),
        };
    }

    private static IEnumerable<OpenAlternate> AlternatesOf(StoreWeek week, IReadOnlyList<WorkStatus> statuses)
    {
        var begun = statuses.Select(status => status.Subject.Task).OfType<string>().ToHashSet();
        return from display in week.Week.Displays
            where display.Alternate is not null && !week.DisplayChoices.ContainsKey(display.Id)
                && week.Week.Tasks.All(task => task.Display != display.Id || !begun.Contains(task.Id))
            let alternate = week.Week.Displays.FirstOrDefault(known => known.Id == display.Alternate?.Display)
            where alternate is not null
            select new OpenAlternate(display.Id, display.Name, alternate.Name);
    }

    /// <summary>
    /// The displays that are to stand: those that the published plan works on or that work was reported for. Before a plan is
    /// published, all but the alternates.
    /// </summary>
    private static HashSet<string> Expected(StoreWeek week)
    {
        if (week.Published is not { } published)
            return [.. week.Week.Displays.Select(display => display.Id)
                .Except(week.Week.Displays.Select(display => display.Alternate?.Display).OfType<string>())];
        var begun = published.Plan.Nights.SelectMany(night => night.Work).Select(work => work.Task)
            .Concat(week.ReportedWork.Statuses.Select(status => status.Subject.Task)).OfType<string>().ToHashSet();
        return [.. week.Week.Tasks.Where(task => begun.Contains(task.Id)).Select(task => task.Display)];
    }

    private static bool IsDone(WeekTask task, HashSet<WorkKey> done) =>
        Enumerable.Range(1, task.Stints).All(stint => done.Contains(new WorkKey(task.Id, stint)));

    private static Instant? LastReportOf(StoreWeek week) => week.Arrivals.Values.Select(time => (Instant?)time.ToInstant())
        .Concat(week.CountedAt.Values.Select(count => (Instant?)count.Effective)).Append(week.ReportedWork.Latest)
        .Concat(week.Stops.Values.Select(stop => (Instant?)stop.EffectiveAt().ToInstant()))
        .Concat(week.Questions.Values.Select(question => (Instant?)question.Asked.At.ToInstant())).Max();
}

/// <summary>What a store said of the morning after a night.</summary>
/// <param name="ShutZones">The zones that stay shut to customers. Empty: the whole store can trade.</param>
/// <param name="NotClean">The zones that were still to be cleaned when the night was closed.</param>
public sealed record ClosedNight(
    string Night, OffsetDateTime At, IReadOnlyList<string> ShutZones, IReadOnlyList<string> NotClean);

/// <summary>The store-local hours of a night.</summary>
public sealed record NightHours(LocalDateTime Opens, LocalDateTime Closes)
{
    /// <summary>The pieces of work that the published plan has in it; null if none is published.</summary>
    public int? Pieces { get; init; }

    /// <summary>When the last of them ends by the plan; null if there is none.</summary>
    public LocalDateTime? WorkEnds { get; init; }
}

/// <summary>Work that is stopped because somebody found it not safe.</summary>
/// <param name="Zone">The name of the zone; null: the whole store.</param>
/// <param name="Since">Store-local.</param>
public sealed record OpenStop(string Stop, string? Zone, LocalDateTime Since);

/// <summary>A kit that tasks wait for: it has not arrived, or something of it is uncounted or short.</summary>
/// <param name="Eta">Store-local; null if unknown.</param>
public sealed record AwaitedKit(string Name, LocalDateTime? Eta, bool HasArrived);

/// <summary>A display with the name of what may be built instead of it.</summary>
public sealed record OpenAlternate(string Display, string Name, string Instead);
