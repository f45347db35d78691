using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.JsonPatch.SystemTextJson;
using OneOf;
using SetWeek.Model.Json;

namespace SetWeek.Service.Trials;

/// <summary>An operation of a JSON Patch (RFC 6902) on a week file, for changes that have no kind of their own.</summary>
public sealed record WeekEdit(string Op, string Path, string? From, JsonElement? Value)
{
    private const int LongestPath = 500;

    public static WeekEdit Read(JsonFields json)
    {
        var op = json.Choice("op", "add", "remove", "replace", "move", "copy", "test");
        return new WeekEdit(op, json.Text("path", LongestPath), op is "move" or "copy" ? json.Text("from", LongestPath) : null,
            op is "add" or "replace" or "test" ? json.Required("value").RawElement() : null);
    }

    /// <returns>The changed file, or the reasons why the operation cannot be applied.</returns>
    public OneOf<byte[], FaultReport> ApplyTo(byte[] file)
    {
        var faults = new List<Fault>();
        var edited = file;
        try
        {
            var week = JsonNode.Parse(file)!.AsObject();
            JsonSerializer.SerializeToElement(new[] { this }, Names).Deserialize<JsonPatchDocument>()!
                .ApplyTo(week, failed => faults.Add(new Fault("/path", failed.ErrorMessage)));
            if (faults.Count == 0) edited = JsonSerializer.SerializeToUtf8Bytes(week);
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException or ArgumentException or FormatException)
        {
            faults.Add(new Fault("/path", "This operation cannot be applied to the week file. RFC 6902 defines valid paths."));
        }
        return faults.Count > 0 ? new FaultReport(faults) : edited;
    }

    private static readonly JsonSerializerOptions Names = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = System.Text.Json.Serialization.JsonIgnoreCondition.WhenWritingNull,
    };
}
