using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using NodaTime.Text;
using Npgsql;
using SetWeek.Model.Files;

namespace SetWeek.Bench.Serving;

/// <summary>
/// A chain whose stores have generated weeks of small and medium size in turn, each with a published plan. One kit of all of them
/// comes with the same lorry.
/// </summary>
internal sealed class LorryChain(HttpClient head, HttpClient lead)
{
    private static readonly LocalDateTimePattern Pattern = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");
    private readonly List<(string Week, string Kit)> lorry = [];
    private NodaTime.LocalDateTime eta;
    private bool isLate;

    /// <summary>A week that is not on the lorry, for a lead's own requests.</summary>
    public const string OwnWeek = "own-week";

    /// <summary>Opens, plans and publishes one week of each size, and copies it for the other stores.</summary>
    public async Task Open(int stores, NpgsqlDataSource database)
    {
        var sizes = ((WeekGenerator.Size Size, int Seed)[])[(WeekGenerator.Size.Small, 4), (WeekGenerator.Size.Medium, 4)];
        foreach (var (size, seed) in sizes)
            await Send(head, "/directions", Direction(size.Name, File(size, seed)));
        string[] weeks = [.. Enumerable.Range(0, stores).Select(n => string.Create(CultureInfo.InvariantCulture, $"week-{n:D4}"))];
        foreach (var (at, (size, seed)) in sizes.Index().Take(stores))
        {
            var file = File(size, seed);
            var plan = await OpenStore(weeks[at], size.Name, file);
            string[] ofSize = [.. weeks.Where((_, n) => n % sizes.Length == at)];
            await WeekCopies.Make(database, weeks[at], plan, ofSize[1..]);
            // The kit that arrives last: delaying it moves the most.
            var kit = file["kits"]!.AsArray().MaxBy(kit => (string)kit!["eta"]!)!;
            lorry.AddRange(ofSize.Select(week => (week, (string)kit["id"]!)));
            var expected = Pattern.Parse((string)kit["eta"]!).Value;
            if (expected > eta) eta = expected;
        }
        await OpenStore(OwnWeek, sizes[0].Size.Name, File(sizes[0].Size, sizes[0].Seed));
    }

    /// <summary>
    /// Reports the lorry as late, the first time by a night, so that work must move, then later each time; returns the address of
    /// the report.
    /// </summary>
    public async Task<string> Delay(int effort)
    {
        eta = isLate ? eta.PlusHours(1) : eta.PlusDays(1);
        isLate = true;
        var body = new JsonObject
        {
            ["kits"] = new JsonArray([.. lorry.Select(entry => new JsonObject { ["week"] = entry.Week, ["kit"] = entry.Kit })]),
            ["eta"] = Pattern.Format(eta), ["effort"] = effort,
        };
        return await Send(head, "/kit-delays", body.ToJsonString());
    }

    public static async Task<JsonNode> Report(HttpClient client, string address) =>
        JsonNode.Parse(await client.GetStringAsync(new Uri($"{address}?limit=1", UriKind.Relative)))!;

    /// <summary>Requests a plan and waits for it; returns it with its address.</summary>
    public static async Task<(string Address, JsonNode Plan)> Plan(HttpClient client, string week, int effort)
    {
        var address = await Send(client, $"/weeks/{week}/plans", $$"""{"effort": {{effort}}, "workers": 2}""");
        while (true)
        {
            var plan = JsonNode.Parse(await client.GetStringAsync(new Uri(address, UriKind.Relative)))!;
            if ((string?)plan["state"] is not ("queued" or "solving")) return (address, plan);
            await Task.Delay(50);
        }
    }

    /// <returns>The id of the published plan.</returns>
    private async Task<string> OpenStore(string week, string direction, JsonObject file)
    {
        var store = file["store"]!.DeepClone().AsObject();
        (store["id"], store["name"]) = (week, week);
        await Send(head, "/stores", store.ToJsonString());
        var opening = Pick(file, "currency", "launch", "nights", "crew", "rules");
        (opening["id"], opening["direction"], opening["store"]) = (week, direction, week);
        opening["kits"] = new JsonArray([.. file["kits"]!.AsArray().Select(kit => Pick(kit!.AsObject(), "id", "eta"))]);
        await Send(lead, "/weeks", opening.ToJsonString());
        var (address, plan) = await Plan(lead, week, 1);
        if ((string?)plan["state"] != "ready") throw new InvalidOperationException($"{week} got no plan: {plan["state"]}");
        using var read = await lead.GetAsync(new Uri($"/weeks/{week}", UriKind.Relative));
        using var publish = new HttpRequestMessage(HttpMethod.Post, $"{address}/publish") { Content = BenchChain.Json("{}") };
        publish.Headers.TryAddWithoutValidation("If-Match", read.Headers.ETag!.Tag);
        using var published = await lead.SendAsync(publish);
        if (!published.IsSuccessStatusCode) throw new InvalidOperationException(await published.Content.ReadAsStringAsync());
        return (string)plan["id"]!;
    }

    private static string Direction(string id, JsonObject file)
    {
        var direction = Pick(file, "displays", "tasks");
        (direction["id"], direction["name"]) = (id, id);
        direction["kits"] = new JsonArray([.. file["kits"]!.AsArray().Select(kit =>
        {
            var directed = Pick(kit!.AsObject(), "id", "name");
            if (kit["lines"] is JsonArray lines)
                directed["lines"] = new JsonArray([.. lines.Select(line => Pick(line!.AsObject(), "item", "expected"))]);
            return directed;
        })]);
        return direction.ToJsonString();
    }

    private static JsonObject File(WeekGenerator.Size size, int seed) =>
        JsonNode.Parse(WeekFile.Write(WeekGenerator.Make(size, seed)))!.AsObject();

    private static JsonObject Pick(JsonObject from, params IEnumerable<string> fields) =>
        new(fields.Where(from.ContainsKey).Select(field => KeyValuePair.Create(field, from[field]?.DeepClone())));

    /// <returns>The Location of the answer.</returns>
    private static async Task<string> Send(HttpClient client, string path, string body)
    {
        using var answer = await client.PostAsync(new Uri(path, UriKind.Relative), BenchChain.Json(body));
        return answer.StatusCode is HttpStatusCode.Created or HttpStatusCode.Accepted ? answer.Headers.Location!.ToString()
            : throw new InvalidOperationException($"{path}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
    }
}
