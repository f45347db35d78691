using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>What has happened, as a lead would say it. People stay ids: who they are is known elsewhere.</summary>
public static class EventSentences
{
    public static string Of(Week week, IWeekEvent happened) => happened switch
    {
        WeekOpened => "The week was opened.",
        KitExpected kit => $"{Kit(week, kit.Kit)} is expected {Phrases.Time(kit.Eta)}.",
        KitDelayed { Eta: { } eta } kit => $"{Kit(week, kit.Kit)} is late and now due {Phrases.Time(eta)}.",
        KitDelayed kit => $"{Kit(week, kit.Kit)} is late, and nobody knows when it comes.",
        KitArrived kit => $"{Kit(week, kit.Kit)} came {At(kit.At)}.",
        KitCounted count => $"{Kit(week, count.Kit)} was counted: {Phrases.List(count.Lines.Select(Line))}.",
        KitLineSettled line => $"The week goes on with what there is of {line.Item} of {Kit(week, line.Kit)}.",
        CrewJoined joined => $"\"{joined.Person}\" joined the crew.",
        CrewChanged changed => $"\"{changed.Person}\" changed: {Phrases.List(changed.Changed)}.",
        PersonAbsent absent => $"\"{absent.Person}\" is absent in {absent.Night}.",
        PersonErased erased => $"What was known of \"{erased.Person}\" was erased.",
        PlanPublished plan => $"The plan {plan.PlanId} was published.",
        WorkStarted work => $"{Task(week, work.Task, work.Stint)} was begun {At(work.At)}.",
        WorkFinished work => $"{Task(week, work.Task, work.Stint)} was done {At(work.At)}.",
        WorkBlocked work => $"{Task(week, work.Task, work.Stint)} stands still ({work.Reason}).",
        WorkReopened work => $"{Task(week, work.Task, work.Stint)} is to be done again.",
        CleanDownStarted clean => $"The clean-down of {Zone(week, clean.Zone)} was begun {At(clean.At)}.",
        CleanDownFinished clean => $"The clean-down of {Zone(week, clean.Zone)} was done {At(clean.At)}.",
        _ => throw new ArgumentException($"Nobody has said how to say {happened.GetType().Name}.", nameof(happened)),
    };

    private static string Line(CountedLine line) =>
        line.Damaged == 0 ? $"{line.Received} of {line.Item}" : $"{line.Received} of {line.Item}, {line.Damaged} of them damaged";

    private static string At(OffsetDateTime time) => Phrases.Time(time.LocalDateTime);

    private static string Kit(Week week, string id) => week.Kits.FirstOrDefault(kit => kit.Id == id)?.Name ?? id;

    private static string Zone(Week week, string id) => week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;

    private static string Task(Week week, string id, int stint) => week.Tasks.FirstOrDefault(task => task.Id == id) switch
    {
        null => id,
        { Stints: > 1 } task => $"{task.Name} (part {stint} of {task.Stints})",
        var task => task.Name,
    };
}
