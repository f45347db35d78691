using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Json;

/// <summary>The JSON of the API and of what is stored: camelCase, names of enums, times as in the week file.</summary>
public static class JsonFormat
{
    public static JsonSerializerOptions Options { get; } = Create();

    public static byte[] Bytes<T>(T value) => JsonSerializer.SerializeToUtf8Bytes(value, value?.GetType() ?? typeof(T), Options);

    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        // Answers are JSON, never pasted into HTML, so that é and ' may stay as they are.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase));
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

    /// <summary>Written by the first pattern that says the whole of the value, read by any.</summary>
    private sealed class TimeForm<T>(params IPattern<T>[] patterns) : JsonConverter<T> where T : struct, IEquatable<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options)
        {
            var text = reader.GetString() ?? "";
            foreach (var pattern in patterns)
                if (pattern.Parse(text) is { Success: true } parsed) return parsed.Value;
            throw new JsonException($"\"{text}\" is no {typeof(T).Name}.");
        }

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteStringValue(patterns.Select(pattern => pattern.Format(value)).First(text => Says(text, value)));

        private bool Says(string text, T value) =>
            patterns.Length == 1
                || patterns.Any(pattern => pattern.Parse(text) is { Success: true } read && read.Value.Equals(value));
    }
}
