using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Http;

/// <summary>Invalid bodies for every command. The commands are found by their metadata, so new ones are tested too.</summary>
[Collection(ServiceCollection.Name)]
public sealed class InvalidCommandTests(RunningService service)
{
    private List<Operation> Commands =>
        [.. service.Host.Services.GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints)
        .Select(endpoint => endpoint.Metadata.GetMetadata<Operation>()).OfType<Operation>()
            .Where(operation => operation.Body is not null)];

    [Fact]
    public async Task Each_command_reports_all_faults_with_pointers_and_stores_nothing()
    {
        var (chain, before) = await Opened();
        Assert.True(Commands.Count >= 16, $"Only {Commands.Count} commands were found.");
        foreach (var command in Commands)
        {
            // Each field gets a list of lists, which is invalid for all of them, and one field is unknown.
            var fields = JsonNode.Parse(command.Body!.Example)!.AsObject().Select(field => field.Key).ToList();
            var body = new JsonObject([.. fields.Append("zzz")
                .Select(field => KeyValuePair.Create(field, (JsonNode?)new JsonArray(new JsonArray())))]);
            var answer = await Send(chain, command, body.ToJsonString());
            Assert.True((400, "application/problem+json") == (answer.Status, answer.ContentType),
                $"{command.Id}: {answer.Status} {answer.Text}");
            var pointers = answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!).ToList();
            foreach (var field in fields.Append("zzz"))
                Assert.True(pointers.Any(pointer => pointer == $"/{field}"
                    || pointer.StartsWith($"/{field}/", StringComparison.Ordinal)),
                    $"{command.Id}: no fault of {field}: {answer.Text}");
        }
        Assert.Equal(before, await service.EventsOf(chain));
    }

    [Theory]
    [InlineData("[]"), InlineData("null"), InlineData("{"), InlineData("\"text\""), InlineData("{\"id\": \"\\ud800\"}"),
        InlineData("{\"a\":1,\"a\":2}")]
    public async Task Each_command_refuses_a_body_that_is_not_a_JSON_object(string body)
    {
        var (chain, before) = await Opened();
        foreach (var command in Commands)
        {
            var answer = await Send(chain, command, body);
            Assert.True((400, "application/problem+json") == (answer.Status, answer.ContentType),
                $"{command.Id}: {answer.Status} {answer.Text}");
        }
        Assert.Equal(before, await service.EventsOf(chain));
    }

    [Fact]
    public async Task Each_command_accepts_the_form_of_its_example()
    {
        var (chain, _) = await Opened();
        foreach (var command in Commands)
            Assert.True(await Send(chain, command, command.Body!.Example) is { Status: not 400 },
                $"{command.Id}: {(await Send(chain, command, command.Body.Example)).Text}");
    }

    private async Task<(Chain Chain, string Events)> Opened()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        return (chain, await service.EventsOf(chain));
    }

    /// <summary>Where nobody need be signed in, a phone sends the form token of its page, which is checked before the body.</summary>
    private static async Task<ApiResponse> Send(Chain chain, Operation command, string body)
    {
        using var phone = command.IsOpen ? await chain.Phone() : null;
        return await (phone?.Api ?? chain.As("someone", command.MayUse.Roles[0])).Send(new HttpMethod(command.Method), command.Path
            .Replace("/directions/{id}", "/directions/first-rain").Replace("{id}", FirstRain.Id).Replace("{kit}",
                "forms").Replace("{person}", "p1").Replace("{night}", "monday").Replace("{task}", "wall.paint")
            .Replace("{display}", "wall").Replace("{zone}", "window").Replace("{item}", "ladder").Replace("{plan}", "plan-1")
            .Replace("{number}", "1").Replace("{question}", "q-1").Replace("{report}", "phone-1.1")
            .Replace("{stop}", "phone-1.2").Replace("{snag}", "1"),
            body, ("If-Match", "\"1\""));
    }
}
