using System.Text.Json;
using SetWeek.Service.Json;

namespace SetWeek.Cli.Demo;

/// <summary>Reads answers whose absent fields are null and whose absent lists are empty.</summary>
internal static class DemoJson
{
    public static JsonElement? Field(this JsonElement of, string name) =>
        of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null
            ? value : null;

    public static string? Text(this JsonElement of, string name) => of.Field(name)?.ToString();

    public static long? Number(this JsonElement of, string name) =>
        of.Field(name) is { ValueKind: JsonValueKind.Number } number ? number.GetInt64() : null;

    public static IEnumerable<JsonElement> Items(this JsonElement of, string name) =>
        of.Field(name) is { ValueKind: JsonValueKind.Array } list ? list.EnumerateArray() : [];

    /// <exception cref="DemoStopped">The answer is not what the API promises.</exception>
    public static T As<T>(this JsonElement of, string name) =>
        (of.Field(name) ?? throw new DemoStopped($"The service's answer has no \"{name}\".")).Deserialize<T>(JsonFormat.Options)!;
}
