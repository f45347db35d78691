using System.Text.Json;

namespace SetWeek.Bench;

/// <summary>One JSON line a figure on standard output, so that a run can be kept and compared.</summary>
internal static class JsonLines
{
    private static readonly JsonSerializerOptions Plain = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    public static void Print(object figure) => Console.WriteLine(JsonSerializer.Serialize(figure, Plain));
}
