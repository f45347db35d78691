using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>
/// What makes facts retractable: the facts are kept in the order in which they were recorded. When one is taken back, the state
/// is folded again from those that still count. So it is as if the retracted fact had never been.
/// </summary>
public sealed partial record StoreWeek
{
    /// <summary>The facts recorded so far, also those taken back.</summary>
    public required FactLog Facts { get; init; }

    /// <summary>By report: the stops of work, also those that were lifted.</summary>
    public ImmutableSortedDictionary<string, WorkStopped> Stops { get; init; } =
        ImmutableSortedDictionary.Create<string, WorkStopped>(StringComparer.Ordinal);

    public ImmutableHashSet<string> LiftedStops { get; init; } = [];

    /// <summary>The stops that no lead has lifted yet.</summary>
    public IEnumerable<WorkStopped> StandingStops => Stops.Values.Where(stop => !LiftedStops.Contains(stop.Report));

    /// <summary>By night: the reports on who was there, and on its opening and closing.</summary>
    public ImmutableSortedDictionary<string, ImmutableList<INightReport>> NightReports { get; init; } =
        ImmutableSortedDictionary.Create<string, ImmutableList<INightReport>>(StringComparer.Ordinal);

    /// <summary>The reports of the walk-through.</summary>
    public ImmutableList<AreaLookedAt> AreaLooks { get; init; } = [];

    /// <summary>The reports that displays were shown.</summary>
    public ImmutableList<DisplayShown> Showings { get; init; } = [];

    /// <summary>The acceptances of the finished week, the first one first, also those withdrawn.</summary>
    public ImmutableList<WeekHandedOver> HandOvers { get; init; } = [];

    public ImmutableHashSet<string> WithdrawnHandOvers { get; init; } = [];

    /// <summary>The acceptance that counts; null if the store has not accepted the week.</summary>
    public WeekHandedOver? HandedOver => HandOvers.FindLast(accepted => !WithdrawnHandOvers.Contains(accepted.HandOver));

    private StoreWeek With(INightReport report) => this with
    {
        NightReports = NightReports.SetItem(report.Night, NightReports.GetValueOrDefault(report.Night, []).Add(report)),
    };

    /// <summary>The reports on snags that count.</summary>
    private ImmutableList<ISnagReport> SnagReports { get; init; } = [];

    /// <summary>What is reported of snags.</summary>
    public ReportedSnags Snags => new(SnagReports, Facts.SnagNumbers);

    /// <summary>
    /// Who does the work of a report: as it says; if it is no start, as reported before; otherwise as planned. Empty if nobody is
    /// known.
    /// </summary>
    public IReadOnlyList<string> PeopleOf(IWorkReport report) =>
        report.People ?? (report is WorkStarted or CleanDownStarted ? null : ReportedWork.StatusOf(report.Subject)?.People)
            ?? [.. from night in Published?.Plan.Nights ?? []
                from work in night.Work
                where report.Subject.Task is { } task ? work.Task == task && work.Stint == report.Subject.Stint
                    : work.CleanDown == report.Subject.CleanDown && night.Night == report.Subject.Night
                from person in work.People
                group person by person.Person into one
                select one.Key];

    private StoreWeek WithBroken(string plan, PlanBroken? broken) =>
        Published?.PlanId == plan ? this with { Published = Published with { Broken = broken } } : this;

    /// <summary>The plan with its issue and numbers. Older events have none, and get those that they would have had.</summary>
    private PublishedPlan Publishing(PlanPublished plan) => new(plan.PlanId, plan.InputHash, plan.Plan)
    {
        Issue = new PlanIssue(plan.Issue ?? NextIssue, plan.PlanId, plan.By, plan.At),
        Earlier = Published is { } before ? [.. before.Earlier, before.Issue] : [],
        Pieces = plan.Pieces ?? NextNumbers(plan.Plan),
        Replaced = Published?.Plan,
    };

    private ImmutableSortedDictionary<int, IssueNotifications> Notifying(PlanPublished plan)
    {
        var issue = plan.Issue ?? NextIssue;
        return Notifications.SetItem(issue, IssueNotifications.Of(Week, issue, plan, Published?.Plan));
    }

    private StoreWeek With(INotificationEvent e) => !Notifications.TryGetValue(e.Issue, out var issue) ? this
        : this with { Notifications = Notifications.SetItem(e.Issue, issue.With(e)) };

    private StoreWeek WithoutNotificationsTo(string person) => this with
    {
        Notifications = Notifications.ToImmutableSortedDictionary(issue => issue.Key, issue => issue.Value.Without(person)),
    };

    /// <summary>The issue of the next plan that is published.</summary>
    public int NextIssue => (Published?.Issue.Number ?? 0) + 1;

    /// <summary>The numbers of the work of the next plan that is published.</summary>
    public PieceNumbers NextNumbers(Plan plan) => PieceNumbering.Next(
        Published?.Pieces ?? PieceNumbers.None, Week.Nights.Select(night => night.Id), plan);

    /// <summary>Records a fact. A report whose id is known changes nothing.</summary>
    private StoreWeek Taking(IWeekEvent e)
    {
        if (e is IFloorReport report && Facts.Find(report.Report) is not null) return this;
        var facts = Facts.With(e, out var fact);
        if (facts.CountsTheSameAs(Facts, fact)) return (facts.Counts(fact) ? After(this, fact) : this) with { Facts = facts };
        return facts.Counting.Aggregate(Open(facts.Opened), After) with
        {
            Facts = facts, Published = Published, Notifications = Notifications,
        };
    }
}

/// <summary>The published plan, by which the store works.</summary>
public sealed record PublishedPlan(string PlanId, string InputHash, Plan Plan)
{
    public required PlanIssue Issue { get; init; }

    /// <summary>The plans that were published before it, the first one first.</summary>
    public IReadOnlyList<PlanIssue> Earlier { get; init; } = [];

    /// <summary>The numbers of its work.</summary>
    public required PieceNumbers Pieces { get; init; }

    /// <summary>The plan that was published before it; null for the first one.</summary>
    public Plan? Replaced { get; init; }

    /// <summary>Why it no longer holds; null if it holds.</summary>
    public PlanBroken? Broken { get; init; }
}

/// <summary>A plan of the week that was published.</summary>
/// <param name="Number">1 for the first plan of the week that was published, 2 for the next.</param>
/// <param name="By">The id of the person who published it; null if it was published before this was recorded.</param>
/// <param name="At">When it was published; null as for <paramref name="By"/>.</param>
public sealed record PlanIssue(int Number, string Plan, string? By, Instant? At);
