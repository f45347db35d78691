using NodaTime;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>The differences between a published plan and a new one: shifts, work, notifications and cost.</summary>
public sealed record PlanChanges
{
    /// <summary>Shifts that were added, dropped or moved, by night and then in crew order.</summary>
    public required IReadOnlyList<ShiftChange> Shifts { get; init; }

    /// <summary>Stints and clean-downs that changed, in the order of the new plan; dropped work follows at the end.</summary>
    public required IReadOnlyList<WorkChange> Work { get; init; }

    /// <summary>One notification for each person whose shifts or tasks changed, in crew order.</summary>
    public required IReadOnlyList<Notification> Notifications { get; init; }

    /// <summary>Wages of both plans in minor units, by the rates and rules of the problem's week.</summary>
    public required CostChange Cost { get; init; }

    /// <summary>Compares two plans of one week.</summary>
    /// <param name="problem">The current week. In a re-plan, its current time decides which changes are at short notice.</param>
    /// <param name="published">
    /// The published plan, which the crew already has. It may name people and nights that the week no longer has.
    /// </param>
    /// <param name="current">The new plan.</param>
    public static PlanChanges Between(Problem problem, Plan published, Plan current)
    {
        ShiftChange[] shifts = [.. ShiftChangesOf(problem, published, current)];
        return new PlanChanges
        {
            Shifts = shifts,
            Work = [.. WorkChangesOf(published, current)],
            Notifications = [.. ReplanNotifications.For(problem.Week, published, current, shifts)],
            Cost = new CostChange(CostOf(problem, published), CostOf(problem, current)),
        };
    }

    private static IEnumerable<ShiftChange> ShiftChangesOf(Problem problem, Plan published, Plan current) =>
        ShiftDifferences.Between(published, current, shift => AtShortNotice(problem, shift))
            .OrderBy(change => problem.HasNight(change.Night) ? problem.NightOf(change.Night) : -1)
            .ThenBy(change => problem.HasPerson(change.Person) ? problem.PersonOf(change.Person) : int.MaxValue);

    private static IEnumerable<WorkChange> WorkChangesOf(Plan published, Plan current)
    {
        var before = ByWorkKey(published);
        var after = ByWorkKey(current);
        foreach (var (key, now) in after)
            if (!before.TryGetValue(key, out var was) || was.Night != now.Night || !SameSpan(was.Work, now.Work)
                || !SamePeople(was.Work, now.Work))
                yield return new WorkChange(was.Night, was.Work, now.Night, now.Work);
        foreach (var (key, was) in before)
            if (!after.ContainsKey(key)) yield return new WorkChange(was.Night, was.Work, null, null);
    }

    /// <summary>
    /// The work of a plan by its identity. A stint is the same work in any night; a clean-down belongs to its night.
    /// </summary>
    private static Dictionary<(string?, int?, string?, string?), (string Night, PlannedWork Work)> ByWorkKey(Plan plan) =>
        plan.Nights.SelectMany(night => night.Work.Select(work => (
                Key: (work.Task, work.Stint, work.CleanDown, work.CleanDown is null ? null : night.Night),
                Value: (night.Night, work))))
            .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Value);

    private static bool SameSpan(PlannedWork was, PlannedWork now) => Same(was.From, now.From) && Same(was.To, now.To);
    private static bool Same(OffsetDateTime was, OffsetDateTime now) => was.ToInstant() == now.ToInstant();

    private static bool SamePeople(PlannedWork was, PlannedWork now) =>
        was.People.Select(assigned => assigned.Person).ToHashSet().SetEquals(now.People.Select(assigned => assigned.Person));

    private static bool AtShortNotice(Problem problem, PlannedShift shift) =>
        problem.Facts is { } facts && problem.Rules.NoticeMinutes is { } notice
        && problem.Grid.MinuteOf(shift.From) < facts.Now + notice;

    private static long CostOf(Problem problem, Plan plan) =>
        AllGoals.Of(GoalId.Cost).Measure(problem, PlanConverter.ScheduleOf(problem, plan));
}

/// <summary>A shift that was added, dropped or moved.</summary>
/// <param name="Person">Id of the person.</param>
/// <param name="Night">Id of the night.</param>
/// <param name="Was">The shift in the published plan; null if it was added.</param>
/// <param name="Now">The shift in the new plan; null if it was dropped.</param>
/// <param name="AtShortNotice">True if either shift starts within the notice period from now.</param>
public sealed record ShiftChange(string Person, string Night, PlannedShift? Was, PlannedShift? Now, bool AtShortNotice);

/// <summary>Work that was added or dropped, or whose night, times or people changed.</summary>
/// <param name="NightWas">Id of its night in the published plan; null if it was added.</param>
/// <param name="Was">The work in the published plan; null if it was added.</param>
/// <param name="NightNow">Id of its night in the new plan; null if it was dropped.</param>
/// <param name="Now">The work in the new plan; null if it was dropped.</param>
public sealed record WorkChange(string? NightWas, PlannedWork? Was, string? NightNow, PlannedWork? Now)
{
    /// <summary>The work in the new plan or, if it was dropped, in the published one.</summary>
    public PlannedWork Work => Now ?? Was!;

    /// <summary>True if it moved to another night, was added or was dropped.</summary>
    public bool ChangedNight => NightWas != NightNow;
}

/// <summary>What to tell one person about a re-plan.</summary>
/// <param name="Person">Id of the person.</param>
/// <param name="Sentences">Sentences to that person, one for each night that changes, in time order.</param>
public sealed record Notification(string Person, IReadOnlyList<string> Sentences);

/// <summary>The total wages of two plans, in minor units.</summary>
/// <param name="Was">Wages of the published plan.</param>
/// <param name="Now">Wages of the new plan.</param>
public sealed record CostChange(long Was, long Now);
