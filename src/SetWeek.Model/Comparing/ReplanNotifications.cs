using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>What each person has to be told of a re-plan, in sentences that a lead can read out.</summary>
internal static class ReplanNotifications
{
    private static readonly LocalDateTimePattern Day = LocalDateTimePattern.CreateWithInvariantCulture("dddd d MMMM");
    private static readonly LocalDateTimePattern Clock = LocalDateTimePattern.CreateWithInvariantCulture("HH':'mm");

    public static IEnumerable<Notification> For(Week week, Plan published, Plan current, IReadOnlyList<ShiftChange> shifts)
    {
        var people = week.Crew.Select(member => member.Id).Concat(shifts.Select(change => change.Person)).Distinct();
        string[] nights = [.. week.Nights.Select(night => night.Id).Concat(shifts.Select(change => change.Night)).Distinct()];
        foreach (var person in people)
        {
            string[] sentences = [.. nights.SelectMany(OfNight)];
            if (sentences.Length > 0) yield return new Notification(person, sentences);

            IEnumerable<string> OfNight(string night) =>
            [
                .. shifts.Where(change => change.Person == person && change.Night == night)
                    .Select(change => ShiftSentence(week, change)),
                .. new[] { WorkSentence(week, night, person, published, current) }.OfType<string>(),
            ];
        }
    }

    private static string ShiftSentence(Week week, ShiftChange change) => change switch
    {
        { Was: null, Now: { } added } => $"{DayOf(week, change.Night)}: you are needed, {Hours(added)}.",
        { Was: { } dropped, Now: null } => $"{DayOf(week, change.Night)}: you are not needed any more ({Hours(dropped)} is off).",
        _ => $"{DayOf(week, change.Night)}: your shift is {Hours(change.Now!)}, not {Hours(change.Was!)}.",
    };

    /// <summary>
    /// Only where the person is there in both plans: who is new, or off, is told so and sees the rest on the sheet.
    /// </summary>
    private static string? WorkSentence(Week week, string night, string person, Plan published, Plan current)
    {
        if (!HasShift(published, night, person) || !HasShift(current, night, person)) return null;
        var (was, stands) = (TasksOf(published, night, person), TasksOf(current, night, person));
        var (gone, added) = (was.Except(stands).ToArray(), stands.Except(was).ToArray());
        return (gone.Length, added.Length) switch
        {
            (0, 0) => null,
            ( > 3, _) or (_, > 3) => $"{DayOf(week, night)}: your work is not what the published sheet says; take the new one.",
            (0, _) => $"{DayOf(week, night)}: you also do {Names(week, added)}.",
            (_, 0) => $"{DayOf(week, night)}: you do not do {Names(week, gone)}.",
            _ => $"{DayOf(week, night)}: you do {Names(week, added)}, not {Names(week, gone)}.",
        };
    }

    private static bool HasShift(Plan plan, string night, string person) =>
        plan.Nights.Any(one => one.Night == night && one.Shifts.Any(shift => shift.Person == person));

    private static HashSet<string> TasksOf(Plan plan, string night, string person) =>
        [.. plan.Nights.Where(one => one.Night == night).SelectMany(one => one.Work)
            .Where(work => work.Task is not null && work.People.Any(hand => hand.Person == person)).Select(work => work.Task!)];

    private static string Names(Week week, IEnumerable<string> tasks) =>
        WeekPhrases.List([.. tasks.Select(id => week.Tasks.FirstOrDefault(task => task.Id == id)?.Name ?? id).Distinct()]);

    private static string DayOf(Week week, string night) =>
        week.Nights.FirstOrDefault(one => one.Id == night) is { } known ? Day.Format(known.Opens) : night;

    private static string Hours(PlannedShift shift) =>
        $"{Clock.Format(shift.From.LocalDateTime)} to {Clock.Format(shift.To.LocalDateTime)}";
}
