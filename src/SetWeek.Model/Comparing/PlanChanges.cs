using SetWeek.Model.Weeks;
using NodaTime;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Comparing;

/// <summary>What a re-plan changes of the plan that people have: shifts, work, whom to tell what, and what it costs.</summary>
public sealed record PlanChanges
{
    /// <summary>By night, then in crew order.</summary>
    public required IReadOnlyList<ShiftChange> Shifts { get; init; }

    /// <summary>Stints and clean-downs, in the order of the plan that they are in now, what is dropped at the end.</summary>
    public required IReadOnlyList<WorkChange> Work { get; init; }

    /// <summary>In crew order: people whose shifts have changed, or who have other work in a night than they know of.</summary>
    public required IReadOnlyList<Notification> Notifications { get; init; }

    /// <summary>Minor units, both by the rates and the rules of the week as it stands.</summary>
    public required CostChange Cost { get; init; }

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

    private static IEnumerable<ShiftChange> ShiftChangesOf(Problem problem, Plan published, Plan current)
    {
        var (was, stands) = (ByPersonNight(published), ByPersonNight(current));
        return from key in was.Keys.Union(stands.Keys)
               let old = was.GetValueOrDefault(key)
               let one = stands.GetValueOrDefault(key)
               where old is null || one is null || !SameSpan(old, one)
               orderby problem.HasNight(key.Night) ? problem.NightOf(key.Night) : -1,
                   problem.HasPerson(key.Person) ? problem.PersonOf(key.Person) : int.MaxValue
               select new ShiftChange(key.Person, key.Night, old, one,
                   AtShortNotice(problem, old) || AtShortNotice(problem, one));
    }

    private static IEnumerable<WorkChange> WorkChangesOf(Plan published, Plan current)
    {
        var was = ByWorkKey(published);
        var stands = ByWorkKey(current);
        foreach (var (key, one) in stands)
            if (!was.TryGetValue(key, out var old) || old.Night != one.Night || !SameSpan(old.Work, one.Work)
                || !SamePeople(old.Work, one.Work))
                yield return new WorkChange(old.Night, old.Work, one.Night, one.Work);
        foreach (var (key, old) in was)
            if (!stands.ContainsKey(key)) yield return new WorkChange(old.Night, old.Work, null, null);
    }

    private static Dictionary<(string Person, string Night), PlannedShift> ByPersonNight(Plan plan) =>
        plan.Nights.SelectMany(night => night.Shifts.Select(shift => (Key: (shift.Person, night.Night), Shift: shift)))
            .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Shift);

    /// <summary>A stint is the same work in any night; a clean-down is that of its night.</summary>
    private static Dictionary<(string?, int?, string?, string?), (string Night, PlannedWork Work)> ByWorkKey(Plan plan) =>
        plan.Nights.SelectMany(night => night.Work.Select(work => (
                Key: (work.Task, work.Stint, work.CleanDown, work.CleanDown is null ? null : night.Night),
                Value: (night.Night, work))))
            .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Value);

    private static bool SameSpan(PlannedShift one, PlannedShift other) => Same(one.From, other.From) && Same(one.To, other.To);
    private static bool SameSpan(PlannedWork one, PlannedWork other) => Same(one.From, other.From) && Same(one.To, other.To);
    private static bool Same(OffsetDateTime one, OffsetDateTime other) => one.ToInstant() == other.ToInstant();

    private static bool SamePeople(PlannedWork one, PlannedWork other) =>
        one.People.Select(hand => hand.Person).ToHashSet().SetEquals(other.People.Select(hand => hand.Person));

    private static bool AtShortNotice(Problem problem, PlannedShift? shift) =>
        shift is not null && problem.Facts is { } facts && problem.Rules.NoticeMinutes is { } notice
        && problem.Grid.MinuteOf(shift.From) < facts.Now + notice;

    private static long CostOf(Problem problem, Plan plan) =>
        AllGoals.Of(GoalId.Cost).Measure(problem, PlanConverter.ScheduleOf(problem, plan));
}

/// <summary>Was null: added. Now null: dropped. Neither: its from or to moved.</summary>
public sealed record ShiftChange(string Person, string Night, PlannedShift? Was, PlannedShift? Now, bool AtShortNotice);

/// <summary>Work added (Was null), dropped (Now null), or with another night, other times or other people.</summary>
public sealed record WorkChange(string? NightWas, PlannedWork? Was, string? NightNow, PlannedWork? Now)
{
    public PlannedWork Work => Now ?? Was!;
    public bool ChangedNight => NightWas != NightNow;
}

/// <summary>What one person has to hear, in the order in which to say it.</summary>
public sealed record Notification(string Person, IReadOnlyList<string> Sentences);

/// <summary>What all shifts cost before and now, in minor units.</summary>
public sealed record CostChange(long Was, long Now);
