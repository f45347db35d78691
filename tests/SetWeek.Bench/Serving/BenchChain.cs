using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json.Nodes;

namespace SetWeek.Bench.Serving;

/// <summary>A chain with weeks of real size: the direction First Rain scoped to Harbour Street, again and again.</summary>
internal sealed class BenchChain(HttpClient head, HttpClient lead)
{
    private const string Scenario = "ops/scenario";
    private int reports;

    /// <summary>The weeks with a published plan, each with the stints that can be reported.</summary>
    public IReadOnlyList<(string Week, IReadOnlyList<(string Task, int Stint, string Night)> Stints)> Planned { get; private set; } =
        [];

    /// <summary>All weeks.</summary>
    public IReadOnlyList<string> Weeks { get; private set; } = [];

    public async Task Open(int weeks, int planned)
    {
        await Send(head, "/directions", File.ReadAllText($"{Scenario}/first-rain.direction.json"));
        await Send(head, "/stores", File.ReadAllText($"{Scenario}/harbour-street.store.json"));
        var opening = File.ReadAllText($"{Scenario}/harbour-street.opening.json");
        Weeks = [.. Enumerable.Range(0, weeks).Select(week => string.Create(CultureInfo.InvariantCulture, $"week-{week:D3}"))];
        foreach (var week in Weeks) await Send(lead, "/weeks", opening.Replace("\"first-rain.harbour-street\"", $"\"{week}\""));
        var found = new List<(string, IReadOnlyList<(string, int, string)>)>();
        foreach (var week in Weeks.Take(planned)) found.Add((week, await Publish(week)));
        Planned = found;
    }

    /// <summary>A report of progress that nobody has made before: work started and blocked in turn.</summary>
    /// <param name="weeks">Over how many of the planned weeks the reports are spread.</param>
    public (string Path, string Body) NextReport(int weeks)
    {
        var n = Interlocked.Increment(ref reports);
        var (week, stints) = Planned[n % weeks];
        var (task, stint, night) = stints[n / weeks / 2 % stints.Count];
        var (kind, rest) = n / weeks % 2 == 0 ? ("started", $"\"night\": \"{night}\"") : ("blocked", "\"reason\": \"no-access\"");
        return ($"/weeks/{week}/work/{kind}", Report(n, task, stint, rest));
    }

    /// <summary>Reports to one week, many in a request, until it has so many events.</summary>
    public async Task Fill(string week, int events)
    {
        var stints = Planned.First(planned => planned.Week == week).Stints;
        for (var version = await Version(week); version < events;)
        {
            var count = Math.Min(200, events - version);
            var items = Enumerable.Range(0, count).Select(_ =>
            {
                var n = Interlocked.Increment(ref reports);
                var (task, stint, night) = stints[n % stints.Count];
                var kind = n / stints.Count % 2 == 0 ? "\"started\", \"night\": \"" + night + "\"" : "\"blocked\", \"reason\": \"no-access\"";
                return Report(n, task, stint, $"\"kind\": {kind}");
            });
            await Send(lead, $"/weeks/{week}/reports", $$"""{"reports": [{{string.Join(", ", items)}}]}""");
            version = await Version(week);
        }
    }

    public async Task<int> Version(string week)
    {
        using var answer = await lead.GetAsync(new Uri($"/weeks/{week}", UriKind.Relative));
        return int.Parse(answer.Headers.ETag!.Tag.Trim('"'), CultureInfo.InvariantCulture);
    }

    private static string Report(int n, string task, int stint, string rest) =>
        $$"""{"id": "phone-{{n % 97}}.{{n}}", "task": "{{task}}", "stint": {{stint}}, "at": "{{Now}}", {{rest}}}""";

    private static string Now => TimeProvider.System.GetUtcNow().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private async Task<IReadOnlyList<(string, int, string)>> Publish(string week)
    {
        using var asked = await lead.PostAsync(new Uri($"/weeks/{week}/plans", UriKind.Relative), Json("""{"effort": 1, "workers": 2}"""));
        if (asked.StatusCode != HttpStatusCode.Accepted) throw new InvalidOperationException(await asked.Content.ReadAsStringAsync());
        for (var attempt = 0; attempt < 1200; attempt++, await Task.Delay(50))
        {
            var plan = JsonNode.Parse(await lead.GetStringAsync(asked.Headers.Location))!;
            if ((string?)plan["state"] is "queued" or "solving") continue;
            if ((string?)plan["state"] != "ready") throw new InvalidOperationException($"{week} got no plan: {plan["state"]}");
            using var publish = new HttpRequestMessage(HttpMethod.Post, $"{asked.Headers.Location}/publish");
            publish.Headers.TryAddWithoutValidation("If-Match", $"\"{await Version(week)}\"");
            using var published = await lead.SendAsync(publish);
            if (!published.IsSuccessStatusCode) throw new InvalidOperationException(await published.Content.ReadAsStringAsync());
            return
            [
                .. from night in plan["plan"]!["nights"]!.AsArray()
                   from work in night!["work"]!.AsArray()
                   where work!["task"] is not null
                   select ((string)work["task"]!, (int?)work["stint"] ?? 1, (string)night["night"]!),
            ];
        }
        throw new TimeoutException($"{week} has no plan after a minute.");
    }

    private static async Task Send(HttpClient client, string path, string body)
    {
        using var answer = await client.PostAsync(new Uri(path, UriKind.Relative), Json(body));
        if (!answer.IsSuccessStatusCode)
            throw new InvalidOperationException($"{path}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
    }

    public static StringContent Json(string body) => new(body, Encoding.UTF8, "application/json");
}
