using System.Text.Json;
using SetWeek.Cli.Tables;
using Spectre.Console;

namespace SetWeek.Cli.Demo;

/// <summary>Reads the feed page by page, as a system of head office would, and prints it.</summary>
internal sealed class DemoFeed(DemoOutput tables, DemoApi office)
{
    private const int PageSize = 25, Shown = 12;

    public async Task Print(CancellationToken cancelled)
    {
        var events = new List<JsonElement>();
        var pages = 0;
        for (string? next = $"/feed?limit={PageSize}"; next is not null; pages++)
        {
            var page = await office.Get(next, cancelled);
            var read = page.Body.ValueKind == JsonValueKind.Array ? page.Body.EnumerateArray().ToList() : [];
            events.AddRange(read);
            next = read.Count == 0 ? null : page.Next;
        }
        if (events.Count == 0) throw new DemoStopped("The feed is empty although a week was planned and worked.");
        tables.Write($"{events.Count} events in {pages} pages of at most {PageSize}, in the order in which they were recorded. "
            + $"The first and last {Shown}:");
        var table = PlanTables.NewTable("Happened (UTC)", "Type", "Stream", "Version");
        table.Columns[3].RightAligned();
        foreach (var e in Ends(events))
            if (e is not { } happened) PlanTables.AddRow(table, "...", $"{events.Count - 2 * Shown} more", "", "");
            else PlanTables.AddRow(table, happened.Text("time")?[..16].Replace('T', ' ') ?? "", happened.Text("type") ?? "",
                happened.Text("subject") ?? "", happened.Text("sequence")?.TrimStart('0') ?? "");
        tables.Console.Write(table);
        tables.Write("One event in full:");
        tables.Write(JsonSerializer.Serialize(events.Last(e => e.Text("type") == "setweek.kit-delayed.v1"), Indented));
    }

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>The first and last events; null marks the omitted ones between.</summary>
    private static IEnumerable<JsonElement?> Ends(List<JsonElement> events) => events.Count <= 2 * Shown + 1
        ? events.Select(e => (JsonElement?)e)
        : [.. events.Take(Shown).Select(e => (JsonElement?)e), null, .. events.TakeLast(Shown).Select(e => (JsonElement?)e)];
}
