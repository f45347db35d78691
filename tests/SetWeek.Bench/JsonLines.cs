using System.Text.Json;

namespace SetWeek.Bench;

/// <summary>Prints each figure as one line of JSON on standard output, so that runs can be stored and compared.</summary>
internal static class JsonLines
{
    private static readonly JsonSerializerOptions Options = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    public static void Print(object figure) => Console.WriteLine(JsonSerializer.Serialize(figure, Options));
}
