using System.Text.Json;
using System.Text.Json.Serialization;
using SetWeek.Model.Json;

namespace SetWeek.Model.Changes.Format;

/// <summary>Converts a change in stored documents and API responses, in the same form as in the files.</summary>
public sealed class WeekChangeConverter : JsonConverter<WeekChange>
{
    /// <inheritdoc/>
    public override bool CanConvert(Type type) => type.IsAssignableTo(typeof(WeekChange));

    /// <inheritdoc/>
    public override WeekChange Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options)
    {
        using var document = JsonDocument.ParseValue(ref reader);
        return JsonCursor.Read(document.RootElement, ChangeFormat.Read)
            .Match(change => change, faults => throw new JsonException(faults.All[0].Detail));
    }

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter json, WeekChange change, JsonSerializerOptions options) =>
        ChangeFormat.Write(json, change);
}
