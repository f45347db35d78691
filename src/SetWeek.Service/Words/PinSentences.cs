using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>Says what is held in place by a pin.</summary>
public sealed class PinSentences(Week week)
{
    private readonly WeekLabels words = new(week);

    public string Of(Pin pin) => pin switch
    {
        StintPin stint => $"{words.TaskName(stint.Task)}{Part(stint)}: "
            + WeekLabels.Join(
            [
                .. stint.Night is { } night ? (string[])[$"in the night of {words.NightName(night)}"] : [],
                .. stint.From is { } from ? (string[])[$"from {Clock(from, stint.Night)}"] : [],
                .. stint.People.Count > 0 ? (string[])[$"with {WeekLabels.Join([.. stint.People.Select(words.Person)])}"] : [],
            ]) + ".",
        ShiftPin { Off: true } off => $"{words.Person(off.Person)}: no shift in the night of {words.NightName(off.Night)}.",
        ShiftPin shift => $"{words.Person(shift.Person)}: a shift in the night of {words.NightName(shift.Night)}"
            + (shift.From is { } from ? $" from {Clock(from, shift.Night)}" : "")
            + (shift.To is { } to ? $" to {Clock(to, shift.Night)}" : "") + ".",
        _ => throw new ArgumentException($"A {pin.GetType().Name} has no sentence; add its case.", nameof(pin)),
    };

    private string Part(StintPin pin) => pin.Stint is { } stint && words.Task(pin.Task) is { Stints: > 1 } task
        ? $", part {stint} of {task.Stints}" : "";

    /// <summary>The time of day; with its day where the night is not named.</summary>
    private static string Clock(LocalDateTime time, string? night) =>
        night is null ? IssueSentences.DayAndTime(time) : WeekLabels.Time(time);
}
