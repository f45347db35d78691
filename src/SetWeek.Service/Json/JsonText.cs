using System.Text.Json;

namespace SetWeek.Service.Json;

/// <summary>JSON as text, and what lies in JSON that has not been checked yet.</summary>
public static class JsonText
{
    /// <summary>A value as the API writes it.</summary>
    public static string Write<T>(T value) => System.Text.Encoding.UTF8.GetString(JsonFormat.Bytes(value));

    /// <returns>Null if it is no object with a text in that field.</returns>
    public static string? Of(JsonElement element, string field)
    {
        if (element.ValueKind != JsonValueKind.Object) return null;
        try
        {
            return element.TryGetProperty(field, out var value) && value.ValueKind == JsonValueKind.String
                ? value.GetString() : null;
        }
        catch (InvalidOperationException) // half of a surrogate pair, which is no text
        {
            return null;
        }
    }
}
