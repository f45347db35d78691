using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;

namespace SetWeek.Service.Tests.Http;

/// <summary>Compares responses with the schemas and examples that the protocols publish.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ProtocolTests(RunningService service)
{
    [OpenDataFact("protocols/cloudevents/cloudevents.schema.json")]
    public async Task Every_event_of_the_feed_fits_the_CloudEvents_schema()
    {
        var schema = JsonSchema.FromText(OpenDataFactAttribute.Read("protocols/cloudevents/cloudevents.schema.json"));
        var chain = service.NewChain();
        await chain.HeadOffice.Post("/stores", Samples.Store());
        var events = (await chain.HeadOffice.Get("/feed")).Json.AsArray();
        Assert.NotEmpty(events);
        foreach (var e in events)
        {
            Assert.True(IsValid(schema, e!));
            e!.AsObject().Remove("specversion");
            Assert.False(IsValid(schema, e));
        }
    }

    [OpenDataFact("protocols/http/problem.schema.json")]
    public async Task Problem_details_fit_their_schema()
    {
        var schema = JsonSchema.FromText(OpenDataFactAttribute.Read("protocols/http/problem.schema.json"));
        var chain = service.NewChain();
        foreach (var answer in new[] { await chain.HeadOffice.Get("/stores/nowhere"),
            await chain.HeadOffice.Post("/stores", "{}") })
        {
            var problem = answer.Json.AsObject();
            Assert.True(IsValid(schema, problem));
            Assert.Equal(answer.Status, (int)problem["status"]!);
            problem["status"] = "404";
            Assert.False(IsValid(schema, problem));
        }
    }

    /// <summary>
    /// RFC 9457, section 3, figure of a validation error: a member "errors" whose items have a detail and a pointer.
    /// </summary>
    [OpenDataFact("protocols/http/rfc9457_examples.json")]
    public async Task Faults_have_the_members_of_the_example_in_RFC_9457()
    {
        var examples =
            JsonNode.Parse(OpenDataFactAttribute.Read("protocols/http/rfc9457_examples.json"))!["examples (RFC 9457 section 3)"]!;
        var expected = examples.AsArray().Single(item => item!["body"]!["errors"]
            is not null)!["body"]!["errors"]![0]!.AsObject();
        var actual = (await service.NewChain().HeadOffice.Post("/stores", "{}")).Json["errors"]![0]!.AsObject();
        Assert.Equal(expected.Select(member => member.Key).Order(), actual.Select(member => member.Key).Order());
    }

    private static bool IsValid(JsonSchema schema, JsonNode json) =>
        schema.Evaluate(JsonSerializer.SerializeToElement(json)).IsValid;
}
