using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Http.OpenApi;

/// <summary>A client that NSwag generates from the description alone does a lead's work.</summary>
[Collection(ServiceCollection.Name)]
public sealed class GeneratedClientTests(RunningService service)
{
    private static readonly Lazy<Task<Type>> Client =
        new(() => GeneratedClient.Generate(DescribedAnswers.Description.ToJsonString()));

    [Fact]
    public async Task A_generated_client_opens_plans_publishes_and_replans_a_week_and_reads_every_resource()
    {
        var chain = service.NewChain();
        var (office, lead) = (await As(chain, "ada", Role.HeadOffice), await As(chain, "lena", Role.Lead));
        var engineer = await As(chain, "eva", Role.Engineer);
        await Expect(201, office.Call("issueDirection", ("body", FirstRain.Direction)));
        await Expect(201, office.Call("openStore", ("body", Samples.Store())));
        var opened = await Expect(201, lead.Call("openWeek", ("body", FirstRain.Opening), ("idempotency_Key", "lena.1")));
        Assert.Equal(FirstRain.Address, opened.Header("Location"));

        var first = await Planned(lead);
        await Expect(204, Publish(lead, first, (await Expect(200, lead.Call("readWeek", ("id", FirstRain.Id)))).Header("ETag")!));
        Assert.Equal(412, (await Publish(lead, first, "\"1\"")).Status);
        await Expect(204, lead.Call("delayKit", ("id", FirstRain.Id), ("kit", "forms"),
            ("body", """{"eta": "2027-03-09T12:00", "why": "Held at the depot."}""")));
        var replan = await Planned(lead);

        var values = new Dictionary<string, string>
        {
            ["plan"] = replan, ["task"] = "wall.paint",
        };
        var batch = (await Expect(202, office.Call("delayKits", ("body", $$"""
            {"kits": [{"week": "{{FirstRain.Id}}", "kit": "forms"}], "eta": "2027-03-09T12:00", "seconds": 1}
            """)))).Header("Location")!.Split('/')[^1];
        await Expect(201, office.Call("addWebhook",
            ("body", """{"id": "ops-board", "url": "https://board.quillmere.example/setweek"}""")));
        var memo = (await Expect(201, office.Call("sendMemo",
            ("body", """{"direction": "first-rain", "text": "The second lorry brings spare skirting."}""")))).Header("Location")!.Split('/')[^1];
        var reads = Reads().ToList();
        Assert.InRange(reads.Count, 13, int.MaxValue);
        foreach (var (path, operation) in reads)
        {
            var reader = path.Split('/')[1] switch
            {
                "feed" or "webhooks" or "kit-delays" or "memos" => office, "followers" => engineer, _ => lead,
            };
            var answer = await reader.Call(operation,
                [.. values.Select(value => (value.Key, (object?)value.Value)), ("id", IdOf(path, batch, memo)), ("helps", "no")]);
            Assert.True(answer.Status == 200, $"{operation} answered {answer.Status}.");
            Assert.NotNull(answer.Result);
        }
    }

    /// <summary>An answer of the plan has its plan file as a type with members, not as an object of unknown form.</summary>
    [Fact]
    public async Task The_plan_of_an_answer_has_a_type()
    {
        var client = await Client.Value;
        var view = client.Assembly.GetType("Generated.PlanAnswerView", throwOnError: true)!;
        Assert.Equal("PlanFile", view.GetProperty("Plan")!.PropertyType.Name);
        Assert.Equal("PlanFileNight", view.GetProperty("Plan")!.PropertyType.GetProperty("Nights")!.PropertyType
            .GetGenericArguments().Single().Name);
    }

    private static string IdOf(string path, string batch, string memo) => path.Split('/')[1] switch
    {
        "stores" => "harbour-street",
        "directions" => "first-rain",
        "kit-delays" => batch,
        "memos" => memo,
        "webhooks" => "ops-board",
        _ => FirstRain.Id,
    };

    /// <summary>The GET operations whose paths have only parameters that every week of these tests has.</summary>
    private static IEnumerable<(string Path, string Operation)> Reads() =>
        from path in DescribedAnswers.Description["paths"]!.AsObject()
        let operation = path.Value!["get"]
        where operation?["responses"]!["200"]!["content"] is JsonObject content
            && content.Any(media => media.Key.EndsWith("json", StringComparison.Ordinal))
        where operation["parameters"]!.AsArray().Where(parameter => (string)parameter!["in"]! == "path")
            .All(parameter => (string)parameter!["name"]! is "id" or "plan" or "task")
        select (path.Key, (string)operation["operationId"]!);

    private static async Task<string> Planned(GeneratedClient lead)
    {
        var asked = await Expect(202, lead.Call("requestPlan", ("id", FirstRain.Id),
            ("body", """{"seconds": 1, "workers": 1}""")));
        var plan = asked.Header("Location")!.Split('/')[^1];
        for (var attempt = 0; attempt < 600; attempt++)
        {
            dynamic view = (await Expect(200, lead.Call("readPlan", ("id", FirstRain.Id), ("plan", plan)))).Result!;
            string state = view.State.ToString();
            if (state == "Ready") return plan;
            Assert.Contains(state, (string[])["Queued", "Solving"]);
            await Task.Delay(50);
        }
        throw new TimeoutException("The plan is still not settled.");
    }

    private static Task<GeneratedClient.Answer> Publish(GeneratedClient lead, string plan, string version) =>
        lead.Call("publishPlan", ("id", FirstRain.Id), ("plan", plan), ("if_Match", version), ("body", "{}"));

    private static async Task<GeneratedClient.Answer> Expect(int status, Task<GeneratedClient.Answer> call) =>
        await call is var answer && answer.Status == status ? answer
            : throw new InvalidOperationException(
                $"Expected {status}, received {answer.Status}: {Newtonsoft.Json.JsonConvert.SerializeObject(answer.Result)}");

    private async Task<GeneratedClient> As(Chain chain, string person, Role role)
    {
        var http = service.Host.Server.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", chain.TokenOf(person, role));
        return new GeneratedClient(await Client.Value, http);
    }
}
