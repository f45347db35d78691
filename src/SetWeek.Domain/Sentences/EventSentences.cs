using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>Describes an event in a sentence. People appear as ids, because events contain no names.</summary>
public static class EventSentences
{
    public static string Of(Week week, IWeekEvent e) => e switch
    {
        WeekOpened => "The week was opened.",
        KitExpected kit => $"{Kit(week, kit.Kit)} is expected {Phrases.Time(kit.Eta)}.",
        KitDelayed { Eta: { } eta } kit => $"{Kit(week, kit.Kit)} is late and now expected {Phrases.Time(eta)}.",
        KitDelayed kit => $"{Kit(week, kit.Kit)} is late, and its arrival is unknown.",
        KitArrived kit => $"{Kit(week, kit.Kit)} arrived {At(kit.At)}.",
        KitCounted { Confirmed: true } count =>
            $"{Kit(week, count.Kit)} was confirmed as complete: {Phrases.List(count.Lines.Select(Line))}.",
        KitCounted count => $"{Kit(week, count.Kit)} was counted: {Phrases.List(count.Lines.Select(Line))}.",
        KitLineSettled line => $"The received quantity of {line.Item} of {Kit(week, line.Kit)} was accepted.",
        CrewJoined joined => $"\"{joined.Person}\" joined the crew.",
        CrewChanged changed => $"\"{changed.Person}\" changed: {Phrases.List(changed.Changed)}.",
        PersonAbsent absent => $"\"{absent.Person}\" is absent from {Phrases.Night(week, absent.Night)}.",
        PersonErased erased => $"The personal data of \"{erased.Person}\" was erased.",
        PlanPublished plan => $"The plan {plan.PlanId} was published.",
        PlanBroken plan => $"The plan {plan.PlanId} no longer holds: {plan.Sentence}",
        PlanHoldsAgain plan => $"The plan {plan.PlanId} holds again.",
        WorkStarted work => $"{Task(week, work.Task, work.Stint)} was started {At(work.At)}.",
        WorkFinished work => $"{Task(week, work.Task, work.Stint)} was finished {At(work.At)}.",
        WorkBlocked work => $"{Task(week, work.Task, work.Stint)} is blocked ({work.Reason}).",
        WorkProgressed work => $"{Task(week, work.Task, work.Stint)} {Progress(work)}.",
        WorkPaused work => $"{Task(week, work.Task, work.Stint)} was paused {At(work.At)}.",
        WorkResumed work => $"{Task(week, work.Task, work.Stint)} was resumed {At(work.At)}.",
        WorkReopened work => $"{Task(week, work.Task, work.Stint)} must be done again.",
        CleanDownStarted clean => $"The clean-down of {Zone(week, clean.Zone)} was started {At(clean.At)}.",
        CleanDownFinished clean => $"The clean-down of {Zone(week, clean.Zone)} was finished {At(clean.At)}.",
        WorkStopped { Zone: { } zone } stop => $"Work in {Zone(week, zone)} was stopped for {Phrases.Night(week, stop.Night)}: not safe.",
        WorkStopped stop => $"All work was stopped for {Phrases.Night(week, stop.Night)}: not safe.",
        StopLifted stop => $"\"{stop.By}\" lifted the stop {stop.Stop}.",
        ReportRetracted report => $"The report {report.Retracts} was taken back.",
        AbsenceRetracted absent => $"\"{absent.Person}\" comes in {Phrases.Night(week, absent.Night)} after all.",
        KitLineUnsettled line => $"The received quantity of {line.Item} of {Kit(week, line.Kit)} is no longer accepted.",
        IWeekRevision revision => RevisionSentences.Of(week, revision),
        QuestionAsked { Task: { } task } asked =>
            $"{AddresseeOf(asked.For)} was asked about {Task(week, task, asked.Stint ?? 1)} {At(asked.At)}.",
        QuestionAsked asked => $"{AddresseeOf(asked.For)} was asked something {At(asked.At)}.",
        QuestionAnswered { ToAll: true } => "A question was answered for all stores.",
        QuestionAnswered => "A question was answered.",
        _ => throw new ArgumentException($"{e.GetType().Name} has no sentence.", nameof(e)),
    };

    private static string Line(CountedLine line) =>
        line.Damaged == 0 ? $"{line.Received} of {line.Item}" : $"{line.Received} of {line.Item}, {line.Damaged} of them damaged";

    private static string AddresseeOf(Addressee addressee) => addressee == Addressee.Lead ? "The lead" : "Head office";

    private static string Progress(WorkProgressed work) => Phrases.List(
        [.. work is { Done: { } done, Of: { } of } ? (string[])[$"has {done} of {of} done"] : [],
            .. work.RemainingMinutes is { } left ? (string[])[$"needs {left} more minutes"] : []]);

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
