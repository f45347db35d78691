using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Definition;

/// <summary>
/// Phrases shared by the rules' sentences: names, store-local times and durations; and the subjects of breaches.
/// </summary>
internal static class RulePhrases
{
    private const int Day = 24 * 60;
    private static readonly OffsetDateTimePattern Moment = OffsetDateTimePattern.CreateWithInvariantCulture("ddd d MMM HH:mm");
    private static readonly OffsetDateTimePattern Clock = OffsetDateTimePattern.CreateWithInvariantCulture("HH:mm");

    /// <summary>"Tue 9 Mar 01:40", in store-local time.</summary>
    public static string Time(Problem problem, int minute) => Moment.Format(problem.Grid.TimeOf(minute));

    /// <summary>"Mon 8 Mar 22:00 to 02:00". The end has its date only if the span is a day or longer.</summary>
    public static string Span(Problem problem, Span span) => $"{Time(problem, span.From)} to "
        + $"{(span.Minutes < Day ? Clock.Format(problem.Grid.TimeOf(span.To)) : Time(problem, span.To))}";

    /// <summary>"11 h", "45 min", "6 h 5 min".</summary>
    public static string Duration(int minutes) =>
        minutes < 60 ? $"{minutes} min" : minutes % 60 == 0 ? $"{minutes / 60} h" : $"{minutes / 60} h {minutes % 60} min";

    /// <inheritdoc cref="WeekPhrases.Task(Week, WeekTask)"/>
    public static string Task(Problem problem, IndexedTask task) =>
        problem.Tasks.Count(other => other.Name == task.Name) == 1 ? $"“{task.Name}”"
            : $"“{task.Name}” ({problem.Displays[task.Display].Name})";

    /// <summary>"“Paint wall”", or "“Paint wall”, part 2 of 3," for a task with several stints.</summary>
    public static string Stint(Problem problem, Stint stint) =>
        stint.Task.StintCount == 1 ? Task(problem, stint.Task) :
            $"{Task(problem, stint.Task)}, part {stint.Number} of {stint.Task.StintCount},";

    /// <summary>The stint, or "Clean-down of Wall".</summary>
    public static string Work(Problem problem, ScheduledWork work) =>
        work.Stint is { } stint ? Stint(problem, problem.Stints[stint]) : $"Clean-down of {problem.Zones[work.Zone].Name}";

    /// <inheritdoc cref="WeekPhrases.Night"/>
    public static string Night(Problem problem, int night) => WeekPhrases.Night(problem.Week, problem.Nights[night].Id);

    /// <summary>"Ana's shift Mon 8 Mar 22:00 to 02:00".</summary>
    public static string Shift(Problem problem, ScheduledShift shift) =>
        $"{problem.Crew[shift.Person].Name}'s shift {Span(problem, shift.Span)}";

    /// <summary>The subject of a breach about scheduled work.</summary>
    public static RuleSubject Subject(Problem problem, ScheduledWork work) => work.Stint is { } stint
        ? Subject(problem, problem.Stints[stint]) with { Night = problem.Nights[work.Night].Id }
        : new RuleSubject { Night = problem.Nights[work.Night].Id, Zone = problem.Zones[work.Zone].Id };

    /// <summary>The subject of a breach about a stint, whatever its night.</summary>
    public static RuleSubject Subject(Problem problem, Stint stint) => new() { Task = stint.Task.Id, Stint = stint.Number };

    /// <summary>The subject of a breach about a shift.</summary>
    public static RuleSubject Subject(Problem problem, ScheduledShift shift) =>
        new() { Night = problem.Nights[shift.Night].Id, Person = problem.Crew[shift.Person].Id };
}
