using System.Globalization;
using SetWeek.Model.Json;

namespace SetWeek.Domain.NewWeeks;

/// <summary>The ids that a new week may get.</summary>
public static class NewWeekIds
{
    /// <summary>How many a direction and a store have.</summary>
    public const int Most = 999;

    private const int RoomForNumber = 4;

    /// <summary>"first-rain.mill-lane", then "first-rain.mill-lane-2": the first that is free is the id of the week.</summary>
    public static IEnumerable<string> Of(string direction, string store)
    {
        var name = $"{direction}.{store}";
        name = name[..Math.Min(name.Length, JsonCursor.MaxIdLength - RoomForNumber)];
        return Enumerable.Range(1, Most).Select(number =>
            number == 1 ? name : string.Create(CultureInfo.InvariantCulture, $"{name}-{number}"));
    }

    /// <returns>Null if all are taken.</returns>
    public static string? FirstFree(string direction, string store, IEnumerable<string> taken) =>
        Of(direction, store).Except(taken).FirstOrDefault();
}
