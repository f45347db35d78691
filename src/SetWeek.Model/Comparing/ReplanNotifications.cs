using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>
/// Builds the sentences that tell each person what a re-plan changes for them, one for each night. A lead can read them out.
/// </summary>
public static class ReplanNotifications
{
    private static readonly LocalDateTimePattern Day = LocalDateTimePattern.CreateWithInvariantCulture("dddd d MMMM");
    private static readonly LocalDateTimePattern Clock = LocalDateTimePattern.CreateWithInvariantCulture("HH':'mm");

    /// <summary>
    /// A notification for each person with a change: the crew first, in order, then people whom only the plans name.
    /// </summary>
    /// <param name="week">The week, with the names of tasks and the days of nights.</param>
    /// <param name="published">The plan that the crew already has.</param>
    /// <param name="current">The new plan.</param>
    /// <param name="shifts">The shifts that differ between the two.</param>
    public static IEnumerable<Notification> For(Week week, Plan published, Plan current, IReadOnlyList<ShiftChange> shifts)
    {
        var people = week.Crew.Select(member => member.Id).Concat(shifts.Select(change => change.Person))
            .Concat(current.Nights.SelectMany(night => night.Shifts).Select(shift => shift.Person)).Distinct();
        string[] nights = [.. week.Nights.Select(night => night.Id).Concat(shifts.Select(change => change.Night)).Distinct()];
        foreach (var person in people)
        {
            string[] sentences = [.. nights.Select(OfNight).OfType<string>()];
            if (sentences.Length > 0) yield return new Notification(person, sentences);

            string? OfNight(string night)
            {
                string[] clauses =
                [
                    .. shifts.Where(change => change.Person == person && change.Night == night).Select(ShiftClause),
                    .. new[] { WorkClause(week, night, person, published, current) }.OfType<string>(),
                ];
                return clauses.Length == 0 ? null : $"{DayOf(week, night)}: {string.Join(", and ", clauses)}.";
            }
        }
    }

    private static string ShiftClause(ShiftChange change) => change switch
    {
        { Was: null, Now: { } added } => $"you have a new shift, {Hours(added)}",
        { Was: { } dropped, Now: null } => $"your shift is cancelled ({Hours(dropped)})",
        _ => $"your shift is now {Hours(change.Now!)} instead of {Hours(change.Was!)}",
    };

    /// <summary>
    /// The change of a person's tasks in a night, or null. It is told only if the person has a shift there in both plans; a
    /// new or cancelled shift says enough.
    /// </summary>
    private static string? WorkClause(Week week, string night, string person, Plan published, Plan current)
    {
        if (!HasShift(published, night, person) || !HasShift(current, night, person)) return null;
        var (before, after) = (TasksOf(published, night, person), TasksOf(current, night, person));
        var (removed, added) = (before.Except(after).ToArray(), after.Except(before).ToArray());
        return (removed.Length, added.Length) switch
        {
            (0, 0) => null,
            ( > 3, _) or (_, > 3) => "your tasks have changed; use the new sheet",
            (0, _) => $"you also do {Names(week, added)}",
            (_, 0) => $"you no longer do {Names(week, removed)}",
            _ => $"you do {Names(week, added)} instead of {Names(week, removed)}",
        };
    }

    private static bool HasShift(Plan plan, string night, string person) =>
        plan.Nights.Any(planned => planned.Night == night && planned.Shifts.Any(shift => shift.Person == person));

    private static HashSet<string> TasksOf(Plan plan, string night, string person) =>
        [.. plan.Nights.Where(planned => planned.Night == night).SelectMany(planned => planned.Work)
            .Where(work => work.Task is not null && work.People.Any(assigned => assigned.Person == person))
            .Select(work => work.Task!)];

    private static string Names(Week week, IEnumerable<string> tasks) =>
        WeekPhrases.List([.. tasks.Select(id => week.Tasks.FirstOrDefault(task => task.Id == id)?.Name ?? id).Distinct()]);

    private static string DayOf(Week week, string night) =>
        week.Nights.FirstOrDefault(candidate => candidate.Id == night) is { } known ? Day.Format(known.Opens) : night;

    private static string Hours(PlannedShift shift) =>
        $"{Clock.Format(shift.From.LocalDateTime)} to {Clock.Format(shift.To.LocalDateTime)}";
}
