using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.ListEdits;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// The wanted week after an edit of one thing. What only makes sense together with it changes too, so that one request is
/// enough.
/// </summary>
public static class WeekEdits
{
    public static Week With(this Week week, Night night) => week with
    {
        Nights = [.. Put(week.Nights, night, other => other.Id).OrderBy(other => other.Opens).ThenBy(other => other.Closes)],
    };

    /// <summary>The week without a night, and so without anybody's hours and pins in it.</summary>
    public static Week WithoutNight(this Week week, string night) => week with
    {
        Nights = [.. week.Nights.Where(other => other.Id != night)],
        Crew = [.. week.Crew.Select(member => member with
        {
            Available = [.. member.Available.Where(entry => entry.Night != night)],
        })],
        Pins = [.. week.Pins.Where(pin => NightOf(pin) != night)],
    };

    public static Week With(this Week week, Zone zone) => week with
    {
        Store = week.Store with { Zones = Put(week.Store.Zones, zone, other => other.Id) },
    };

    public static Week With(this Week week, Equipment item) => week with
    {
        Store = week.Store with { Equipment = Put(week.Store.Equipment, item, other => other.Id) },
    };

    public static Week With(this Week week, Display display) =>
        week with { Displays = Put(week.Displays, display, other => other.Id) };

    /// <summary>The week with a task. A display that is left out stays so with its new task.</summary>
    public static Week With(this Week week, WeekTask task)
    {
        string[] excluded = [.. DisplayExclusion.ExcludedFrom(week)];
        var edited = week with { Tasks = Put(week.Tasks, task, other => other.Id) };
        return excluded.Length == 0 ? edited : DisplayExclusion.Exclude(edited, excluded);
    }

    /// <summary>The week without a task. Tasks that had to follow it need not wait, and its pins are taken away.</summary>
    public static Week WithoutTask(this Week week, string task) => week with
    {
        Tasks = [.. week.Tasks.Where(other => other.Id != task).Select(other => other with
        {
            After = [.. other.After.Where(precedence => precedence.Task != task)],
        })],
        Pins = [.. week.Pins.Where(pin => (pin as StintPin)?.Task != task)],
    };

    /// <summary>The open week with another decision about a display.</summary>
    public static StoreWeek With(this StoreWeek week, string display, DisplayChoice choice) => week with
    {
        DisplayChoices = choice == DisplayChoice.Build ? week.DisplayChoices.Remove(display)
            : week.DisplayChoices.SetItem(display, choice),
    };

    private static string? NightOf(Pin pin) => pin switch
    {
        ShiftPin shift => shift.Night,
        StintPin stint => stint.Night,
        _ => null,
    };
}
