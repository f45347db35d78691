using System.Globalization;
using SetWeek.Model.Json;

namespace SetWeek.Domain.NewWeeks;

/// <summary>The ids that a new week may get.</summary>
public static class NewWeekIds
{
    private const int Most = 999, RoomForNumber = 4;

    /// <summary>"first-rain.mill-lane", then "first-rain.mill-lane-2": the first that is free is the id of the week.</summary>
    public static IEnumerable<string> Of(string direction, string store)
    {
        var name = $"{direction}.{store}";
        name = name[..Math.Min(name.Length, JsonCursor.MaxIdLength - RoomForNumber)];
        return Enumerable.Range(1, Most).Select(number =>
            number == 1 ? name : string.Create(CultureInfo.InvariantCulture, $"{name}-{number}"));
    }
}
