using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Changes.Format;

namespace SetWeek.Service.Json;

/// <summary>The JSON format of the API and of stored data: camelCase, enums by name, times as in a week file.</summary>
public static class JsonFormat
{
    public static JsonSerializerOptions Options { get; } = Create();

    public static byte[] Bytes<T>(T value) => JsonSerializer.SerializeToUtf8Bytes(value, value?.GetType() ?? typeof(T), Options);

    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        // The JSON is never embedded in HTML, so characters such as é and ' need no escapes.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        // A pin is stored with its type, and PostgreSQL's jsonb sorts the fields, so that the type need not come first.
        options.AllowOutOfOrderMetadataProperties = true;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase));
        options.Converters.Add(new WeekChangeConverter());
        options.Converters.Add(new TimeForm<LocalDateTime>(
            LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm"),
            LocalDateTimePattern.ExtendedIso));
        options.Converters.Add(new TimeForm<LocalTime>(
            LocalTimePattern.CreateWithInvariantCulture("HH':'mm"), LocalTimePattern.ExtendedIso));
        options.Converters.Add(new TimeForm<LocalDate>(LocalDatePattern.Iso));
        options.Converters.Add(new TimeForm<OffsetDateTime>(OffsetDateTimePattern.Rfc3339));
        options.Converters.Add(new TimeForm<Instant>(InstantPattern.ExtendedIso));
    }

    private static JsonSerializerOptions Create()
    {
        var options = new JsonSerializerOptions();
        Configure(options);
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }

    /// <summary>Writes the first pattern that loses nothing of the value; reads any of the patterns.</summary>
    private sealed class TimeForm<T>(params IPattern<T>[] patterns) : JsonConverter<T> where T : struct, IEquatable<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options)
        {
            var text = reader.GetString() ?? "";
            foreach (var pattern in patterns)
                if (pattern.Parse(text) is { Success: true } parsed) return parsed.Value;
            throw new JsonException($"\"{text}\" is not a valid {typeof(T).Name}.");
        }

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteStringValue(patterns.Select(pattern => pattern.Format(value)).First(text => IsLossless(text, value)));

        private bool IsLossless(string text, T value) =>
            patterns.Length == 1
                || patterns.Any(pattern => pattern.Parse(text) is { Success: true } read && read.Value.Equals(value));
    }
}
