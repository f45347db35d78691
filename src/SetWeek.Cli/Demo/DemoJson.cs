using System.Text.Json;
using SetWeek.Service.Json;

namespace SetWeek.Cli.Demo;

/// <summary>Reads JSON leniently: an absent field is null, an absent list is empty.</summary>
internal static class DemoJson
{
    public static JsonElement? Field(this JsonElement json, string name) =>
        json.ValueKind == JsonValueKind.Object && json.TryGetProperty(name, out var value)
            && value.ValueKind != JsonValueKind.Null
            ? value : null;

    public static string? Text(this JsonElement json, string name) => json.Field(name)?.ToString();

    public static long? Number(this JsonElement json, string name) =>
        json.Field(name) is { ValueKind: JsonValueKind.Number } number ? number.GetInt64() : null;

    public static IEnumerable<JsonElement> Items(this JsonElement json, string name) =>
        json.Field(name) is { ValueKind: JsonValueKind.Array } list ? list.EnumerateArray() : [];

    /// <exception cref="DemoStopped">The field is absent, although the API promises it.</exception>
    public static T As<T>(this JsonElement json, string name) =>
        (json.Field(name)
            ?? throw new DemoStopped($"The service's answer has no \"{name}\".")).Deserialize<T>(JsonFormat.Options)!;
}
