using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Domain.Plans;

/// <summary>
/// Finds the fact with which the published plan no longer holds, and the one with which it holds again. Whether it holds depends
/// on the facts alone and not on the clock: work that nobody has reported went as planned.
/// </summary>
public static class PlanHealth
{
    /// <summary>Whether the events could change whether the published plan holds. It is cheap, and needs no crew.</summary>
    /// <param name="week">The state after the events.</param>
    public static bool NeedsCheck(StoreWeek week, IEnumerable<IWeekEvent> events) =>
        week.Published is { } published && events.Any(e => !IsHarmless(week, published, e));

    /// <summary>The event that says that the published plan no longer holds, or holds again.</summary>
    /// <param name="week">The state after the events.</param>
    /// <param name="events">What has just happened.</param>
    /// <returns>Null if nothing has changed in that.</returns>
    public static IWeekEvent? Change(StoreWeek week, CrewFile crew, IReadOnlyList<IWeekEvent> events)
    {
        if (week.Published is not { } published) return null;
        var problem = Problem.Of(PlanningProblem.WeekOf(week, crew), FactsOf(week, published.Plan));
        var schedule = problem.Facts!.PublishedWithActuals;
        var all = Checker.Check(problem, schedule)
            .Select(breach => (Breach: breach, Work: FirstWorkOf(problem, schedule, breach.About)))
            .OrderBy(found => found.Work?.From ?? int.MaxValue)
            .Select(found => BrokenBy(problem, week, published.PlanId, found.Breach, found.Work, crew)).ToList();
        if (all.Count == 0) return published.Broken is null ? null : new PlanHoldsAgain(published.PlanId);
        if (published.Broken is { } known && all.Exists(change => IsSame(change, known))) return null;
        IReadOnlyList<IWeekEvent> deviating = [.. events.Where(e => !IsHarmless(week, published, e))];
        return all[0] with { By = ReportOf(all[0], deviating, wasBroken: published.Broken is not null) };
    }

    private static PlanBroken BrokenBy(
        Problem problem, StoreWeek week, string plan, Breach broken, ScheduledWork? work, CrewFile crew)
    {
        var stint = work?.Stint is { } index ? problem.Stints[index] : null;
        return new PlanBroken(plan, broken.Rule, stint?.Task.Id, stint?.Number,
            work is { IsCleanDown: true } ? problem.Zones[work.Zone].Id : null,
            work is null ? broken.About.Night : problem.Nights[work.Night].Id,
            BlockedSentence(week, broken, stint) ?? NameRemoval.WithMarkedNames(broken.Sentence, crew), null);
    }

    /// <summary>
    /// Null unless the work is not as planned because it is blocked, which the sentence of the rule does not tell.
    /// </summary>
    private static string? BlockedSentence(StoreWeek week, Breach broken, Stint? stint)
    {
        if (broken.Rule != RuleId.Frozen || stint is null
            || week.ReportedWork.StatusOf(new WorkKey(stint.Task.Id, stint.Number))?.State != WorkState.Blocked) return null;
        var task = week.Week.Tasks.First(known => known.Id == stint.Task.Id);
        var name = task.Stints > 1 ? $"“{task.Name}”, part {stint.Number} of {task.Stints}," : task.Name;
        return $"{name} is blocked: what is left of it has to be planned again.";
    }

    /// <summary>Whether both are the same rule at the same place, although a figure in the sentence may be another.</summary>
    private static bool IsSame(PlanBroken one, PlanBroken other) =>
        one with { Sentence = "", By = null } == other with { Sentence = "", By = null };

    /// <summary>
    /// The last of several reports on the broken work, because it decides its state; without one, the first of all.
    /// </summary>
    /// <param name="wasBroken">Whether the plan was broken before: then a report on anything else has not broken it.</param>
    private static string? ReportOf(PlanBroken broken, IReadOnlyList<IWeekEvent> deviating, bool wasBroken) =>
        (deviating.OfType<IWorkReport>().LastOrDefault(report => IsAbout(broken, report.Subject))
            ?? (wasBroken ? null : deviating.OfType<IFloorReport>().FirstOrDefault()))?.Report;

    /// <summary>The facts up to the last report that decides something.</summary>
    private static Replan FactsOf(StoreWeek week, Plan plan)
    {
        var opens = week.Week.Nights[0].Opens;
        var now = week.ReportedWork.Latest is { } latest && StoreTime.Local(week, latest) is var last && last >= opens
            ? last.PlusMinutes(1) : opens;
        var instant = StoreTime.InstantOf(week, now);
        var progress = WorkProgress.Of(week, plan, now);
        return new Replan(plan, now,
            AgreedProgress.WithUnreported(plan, AgreedProgress.Of(plan, plan, progress, instant), instant));
    }

    private static bool IsHarmless(StoreWeek week, PublishedPlan published, IWeekEvent e) => e switch
    {
        PlanPublished or PlanBroken or PlanHoldsAgain or ISnagReport { Corrects: null } or INotificationEvent => true,
        // Who is there, and what the store looks like, is nothing that the planner reads.
        INightReport { Corrects: null } or AreaLookedAt { Corrects: null } or WeekHandedOver or HandOverWithdrawn => true,
        // In a night that has gone off its plan, most reports deviate. Only one on the work that broke it can mend it.
        IWorkReport { Corrects: null } report when published.Broken is { } broken => !IsAbout(broken, report.Subject),
        WorkStarted or WorkFinished or CleanDownStarted or CleanDownFinished =>
            e is IWorkReport { Corrects: null } planned && AgreesWithPlan(week, published.Plan, planned),
        _ => false,
    };

    private static bool IsAbout(PlanBroken broken, WorkKey work) => work.Task is { } task
        ? task == broken.Task && (broken.Stint is null || broken.Stint == work.Stint)
        : work.CleanDown == broken.CleanDown && work.Night == broken.Night;

    private static bool AgreesWithPlan(StoreWeek week, Plan plan, IWorkReport report)
    {
        if (!week.Facts.Counts(report)) return true;
        var now = StoreTime.Local(week, report.EffectiveAt()).PlusMinutes(1);
        return week.ReportedWork.StatusOf(report.Subject) is { } status
            && WorkProgress.Of(plan, status, StoreTime.InstantOf(week, now) - Duration.FromMinutes(1)) is { } progress
            && AgreedProgress.Agrees(plan, progress, StoreTime.InstantOf(week, now));
    }

    /// <summary>The first work that the broken rule is about; null if it is about none.</summary>
    private static ScheduledWork? FirstWorkOf(Problem problem, Schedule schedule, RuleSubject about) =>
        schedule.Work.Where(work => IsAbout(problem, work, about)).MinBy(work => work.From);

    private static bool IsAbout(Problem problem, ScheduledWork work, RuleSubject about)
    {
        var stint = work.Stint is { } index ? problem.Stints[index] : null;
        return (about.Night is null || problem.Nights[work.Night].Id == about.Night)
            && (about.Task is null ? about.Zone is null || problem.Zones[work.Zone].Id == about.Zone
                : stint?.Task.Id == about.Task && (about.Stint is null || stint.Number == about.Stint))
            && (about.Person is null || work.Assignments.Any(assigned => problem.Crew[assigned.Person].Id == about.Person)
                || about.Task is not null)
            && (about.Display is null || stint is not null && problem.Displays[stint.Task.Display].Id == about.Display);
    }
}
