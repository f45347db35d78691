using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Converts field names to and from parts of a JSON Pointer (RFC 6901).</summary>
public static class JsonPointer
{
    /// <summary>The pointer to a field of the object at <paramref name="parent"/>.</summary>
    public static string To(string parent, string name) => $"{parent}/{name.Replace("~", "~0").Replace("/", "~1")}";

    /// <summary>The field name of one part of a pointer.</summary>
    public static string Unescape(string token) => token.Replace("~1", "/").Replace("~0", "~");

    /// <summary>The field's name, or U+FFFD if it contains half of a surrogate pair.</summary>
    public static string NameOf(JsonProperty property)
    {
        try
        {
            return property.Name;
        }
        catch (InvalidOperationException)
        {
            return "\uFFFD";
        }
    }
}
