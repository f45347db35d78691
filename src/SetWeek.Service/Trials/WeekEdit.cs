using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.JsonPatch.SystemTextJson;
using OneOf;
using SetWeek.Model.Json;

namespace SetWeek.Service.Trials;

/// <summary>An operation of a JSON Patch (RFC 6902) on a week file: it reaches whatever no kind of change does.</summary>
public sealed record WeekEdit(string Op, string Path, string? From, JsonElement? Value)
{
    private const int LongestPath = 500;

    public static WeekEdit Read(JsonFields at)
    {
        var op = at.Choice("op", "add", "remove", "replace", "move", "copy", "test");
        return new WeekEdit(op, at.Text("path", LongestPath), op is "move" or "copy" ? at.Text("from", LongestPath) : null,
            op is "add" or "replace" or "test" ? at.Required("value").RawElement() : null);
    }

    /// <summary>The file after it, or why it cannot be done.</summary>
    public OneOf<byte[], FaultReport> ApplyTo(byte[] file)
    {
        var wrong = new List<Fault>();
        var edited = file;
        try
        {
            var week = JsonNode.Parse(file)!.AsObject();
            JsonSerializer.SerializeToElement(new[] { this }, Names).Deserialize<JsonPatchDocument>()!
                .ApplyTo(week, error => wrong.Add(new Fault("/path", error.ErrorMessage)));
            if (wrong.Count == 0) edited = JsonSerializer.SerializeToUtf8Bytes(week);
        }
        catch (Exception unfit) when (unfit is JsonException or InvalidOperationException or ArgumentException or FormatException)
        {
            wrong.Add(new Fault("/path", "This cannot be done to the week file; see RFC 6902 for what a path may be."));
        }
        return wrong.Count > 0 ? new FaultReport(wrong) : edited;
    }

    private static readonly JsonSerializerOptions Names = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = System.Text.Json.Serialization.JsonIgnoreCondition.WhenWritingNull,
    };
}
