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

    /// <summary>The weeks with a published plan, each with the work that can be reported.</summary>
    public IReadOnlyList<(string Week, IReadOnlyList<Planned> Work)> Published { get; private set; } = [];

    internal sealed record Planned(string Task, int Stint, string Night, string To);

    /// <summary>All weeks.</summary>
    public IReadOnlyList<string> Weeks { get; private set; } = [];

    public async Task Open(int weeks, int planned)
    {
        await Send(head, "/directions", File.ReadAllText($"{Scenario}/first-rain.direction.json"));
        await Send(head, "/stores", File.ReadAllText($"{Scenario}/harbour-street.store.json"));
        var opening = File.ReadAllText($"{Scenario}/harbour-street.opening.json");
        Weeks = [.. Enumerable.Range(0, weeks).Select(week => string.Create(CultureInfo.InvariantCulture, $"week-{week:D3}"))];
        foreach (var week in Weeks) await Send(lead, "/weeks", opening.Replace("\"first-rain.harbour-street\"", $"\"{week}\""));
        var found = new List<(string, IReadOnlyList<Planned>)>();
        foreach (var week in Weeks.Take(planned)) found.Add((week, await Publish(week)));
        Published = found;
    }

    /// <summary>
    /// A report that nobody has made before: work is finished as planned, or blocked. What agrees with the plan is the usual report,
    /// and changes nothing that the plan says of the rest. After a block the published plan is checked again.
    /// </summary>
    /// <param name="weeks">Over how many of the published weeks the reports are spread.</param>
    /// <param name="blocked">Every how many reports one is a block; 0 for none.</param>
    public (string Path, string Body) NextReport(int weeks, int blocked)
    {
        var n = Interlocked.Increment(ref reports);
        var (week, all) = Published[n % weeks];
        var isBlock = blocked > 0 && n % blocked == 0;
        var (kind, body) = Report(n, all[n / weeks % all.Count], isBlock);
        return ($"/weeks/{week}/work/{kind}", $"{{{body}}}");
    }

    /// <summary>Reports to one week, many in a request, until it has so many events.</summary>
    public async Task Fill(string week, int events)
    {
        var all = Published.First(published => published.Week == week).Work;
        for (var version = await Version(week); version < events; version = await Version(week))
        {
            var items = Enumerable.Range(0, Math.Min(200, events - version)).Select(_ =>
            {
                var n = Interlocked.Increment(ref reports);
                var (kind, body) = Report(n, all[n % all.Count], isBlock: false);
                return $"{{\"kind\": \"{kind}\", {body}}}";
            });
            await Send(lead, $"/weeks/{week}/reports", $$"""{"reports": [{{string.Join(", ", items)}}]}""");
        }
    }

    private static (string Kind, string Body) Report(int n, Planned work, bool isBlock)
    {
        var (kind, rest) = isBlock ? ("blocked", "\"reason\": \"no-access\"") : ("finished", $"\"night\": \"{work.Night}\"");
        return (kind, $$"""
            "id": "phone-{{n % 97}}.{{n}}", "task": "{{work.Task}}", "stint": {{work.Stint}}, "at": "{{work.To}}", {{rest}}
            """);
    }

    public async Task<int> Version(string week)
    {
        using var answer = await lead.GetAsync(new Uri($"/weeks/{week}", UriKind.Relative));
        return int.Parse(answer.Headers.ETag!.Tag.Trim('"'), CultureInfo.InvariantCulture);
    }

    private async Task<IReadOnlyList<Planned>> Publish(string week)
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
                   select new Planned((string)work["task"]!, (int?)work["stint"] ?? 1, (string)night["night"]!, (string)work["to"]!),
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
