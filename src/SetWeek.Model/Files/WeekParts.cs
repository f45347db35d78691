using System.Text.Json;
using SetWeek.Model.Files.Texts;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>
/// Compares parts of weeks by what a week file says of them. The records themselves compare their lists by reference.
/// </summary>
public static class WeekParts
{
    /// <summary>True if a week file says the same of both nights.</summary>
    public static bool Same(Night first, Night second) => Same(first, second, WeekWriter.Night);

    /// <summary>True if a week file says the same of both zones.</summary>
    public static bool Same(Zone first, Zone second) => Same(first, second, WeekWriter.Zone);

    /// <summary>True if a week file says the same of both people.</summary>
    public static bool Same(CrewMember first, CrewMember second) => Same(first, second, WeekWriter.CrewMember);

    /// <summary>True if a week file says the same of both kits.</summary>
    public static bool Same(Kit first, Kit second) => Same(first, second, WeekWriter.Kit);

    /// <summary>True if a week file says the same of both displays.</summary>
    public static bool Same(Display first, Display second) => Same(first, second, WeekWriter.Display);

    /// <summary>True if a week file says the same of both tasks.</summary>
    public static bool Same(WeekTask first, WeekTask second) => Same(first, second, TaskWriter.Task);

    /// <summary>True if a week file says the same of both sets of rules.</summary>
    public static bool Same(RuleSet first, RuleSet second) =>
        Same(first, second, (json, rules) => json.Object(() => WeekWriter.Rules(json, rules)));

    /// <summary>True if a week file says the same of both pins.</summary>
    public static bool Same(Pin first, Pin second) => Same(first, second, WeekWriter.Pin);

    private static bool Same<T>(T first, T second, Action<Utf8JsonWriter, T> write) => ReferenceEquals(first, second)
        || JsonWriterExtensions.Bytes(json => write(json, first)).AsSpan()
            .SequenceEqual(JsonWriterExtensions.Bytes(json => write(json, second)));
}
