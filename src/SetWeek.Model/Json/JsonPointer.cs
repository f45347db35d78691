using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Names as the parts of a JSON Pointer (RFC 6901).</summary>
internal static class JsonPointer
{
    public static string To(string parent, string name) => $"{parent}/{name.Replace("~", "~0").Replace("/", "~1")}";

    public static string Unescape(string token) => token.Replace("~1", "/").Replace("~0", "~");

    public static string NameOf(JsonProperty property)
    {
        try
        {
            return property.Name;
        }
        catch (InvalidOperationException)
        {
            return "\uFFFD"; // half of a surrogate pair, escaped
        }
    }
}
