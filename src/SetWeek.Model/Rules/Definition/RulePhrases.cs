using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Definition;

/// <summary>The words that the rules' sentences share: names, store-local times, lengths, and what a breach is about.</summary>
internal static class RulePhrases
{
    private const int Day = 24 * 60;
    private static readonly OffsetDateTimePattern Moment = OffsetDateTimePattern.CreateWithInvariantCulture("ddd d MMM HH:mm");
    private static readonly OffsetDateTimePattern Clock = OffsetDateTimePattern.CreateWithInvariantCulture("HH:mm");

    /// <summary>"Tue 9 Mar 01:40", on the store's clock.</summary>
    public static string Time(Problem problem, int minute) => Moment.Format(problem.Grid.TimeOf(minute));

    /// <summary>"Mon 8 Mar 22:00 to 02:00": the day of the end is said only where a clock has shown that hour before.</summary>
    public static string Span(Problem problem, Span span) =>
        $"{Time(problem, span.From)} to {(span.Minutes < Day ? Clock.Format(problem.Grid.TimeOf(span.To)) : Time(problem, span.To))}";

    /// <summary>"11 h", "45 min", "6 h 5 min".</summary>
    public static string Duration(int minutes) =>
        minutes < 60 ? $"{minutes} min" : minutes % 60 == 0 ? $"{minutes / 60} h" : $"{minutes / 60} h {minutes % 60} min";

    /// <summary>A task's name, with its display where another task is called the same.</summary>
    public static string Task(Problem problem, IndexedTask task) =>
        problem.Tasks.Count(other => other.Name == task.Name) == 1 ? task.Name
            : $"{task.Name} ({problem.Displays[task.Display].Name})";

    public static string Stint(Problem problem, Stint stint) =>
        stint.Task.StintCount == 1 ? Task(problem, stint.Task) :
            $"{Task(problem, stint.Task)}, part {stint.Number} of {stint.Task.StintCount},";

    public static string Work(Problem problem, ScheduledWork work) =>
        work.Stint is { } stint ? Stint(problem, problem.Stints[stint]) : $"Clean-down of {problem.Zones[work.Zone].Name}";

    /// <summary>"the night of Mon 8 Mar": ids are for programs.</summary>
    public static string Night(Problem problem, int night) => WeekPhrases.Night(problem.Week, problem.Nights[night].Id);

    /// <summary>"Ana's shift Mon 8 Mar 22:00 to 02:00".</summary>
    public static string Shift(Problem problem, ScheduledShift shift) =>
        $"{problem.Crew[shift.Person].Name}'s shift {Span(problem, shift.Span)}";

    public static RuleSubject Subject(Problem problem, ScheduledWork work) => work.Stint is { } stint
        ? Subject(problem, problem.Stints[stint]) with { Night = problem.Nights[work.Night].Id }
        : new RuleSubject { Night = problem.Nights[work.Night].Id, Zone = problem.Zones[work.Zone].Id };

    public static RuleSubject Subject(Problem problem, Stint stint) => new() { Task = stint.Task.Id, Stint = stint.Number };

    public static RuleSubject Subject(Problem problem, ScheduledShift shift) =>
        new() { Night = problem.Nights[shift.Night].Id, Person = problem.Crew[shift.Person].Id };
}
