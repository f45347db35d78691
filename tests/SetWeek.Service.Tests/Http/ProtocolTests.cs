using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;

namespace SetWeek.Service.Tests.Http;

/// <summary>What the service sends, against the schemas and examples that the protocols publish.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ProtocolTests(RunningService service)
{
    [OpenDataFact("protocols/cloudevents/cloudevents.schema.json")]
    public async Task Every_event_of_the_feed_is_valid_by_the_schema_of_CloudEvents()
    {
        var schema = JsonSchema.FromText(OpenDataFactAttribute.Read("protocols/cloudevents/cloudevents.schema.json"));
        var chain = service.NewChain();
        await chain.HeadOffice.Post("/stores", Samples.Store());
        var events = (await chain.HeadOffice.Get("/feed")).Json.AsArray();
        Assert.NotEmpty(events);
        foreach (var e in events)
        {
            Assert.True(Valid(schema, e!));
            e!.AsObject().Remove("specversion");
            Assert.False(Valid(schema, e));
        }
    }

    [OpenDataFact("protocols/http/problem.schema.json")]
    public async Task Problem_details_are_valid_by_their_schema()
    {
        var schema = JsonSchema.FromText(OpenDataFactAttribute.Read("protocols/http/problem.schema.json"));
        var chain = service.NewChain();
        foreach (var answer in new[] { await chain.HeadOffice.Get("/stores/nowhere"),
            await chain.HeadOffice.Post("/stores", "{}") })
        {
            var problem = answer.Json.AsObject();
            Assert.True(Valid(schema, problem));
            Assert.Equal(answer.Status, (int)problem["status"]!);
            problem["status"] = "404";
            Assert.False(Valid(schema, problem));
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
        var example = examples.AsArray().Single(one => one!["body"]!["errors"] is not null)!["body"]!["errors"]![0]!.AsObject();
        var ours = (await service.NewChain().HeadOffice.Post("/stores", "{}")).Json["errors"]![0]!.AsObject();
        Assert.Equal(example.Select(member => member.Key).Order(), ours.Select(member => member.Key).Order());
    }

    private static bool Valid(JsonSchema schema, JsonNode json) =>
        schema.Evaluate(JsonSerializer.SerializeToElement(json)).IsValid;
}
