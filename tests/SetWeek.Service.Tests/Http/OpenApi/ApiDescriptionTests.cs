using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.OpenApi;
using SetWeek.Service.Http;
using SetWeek.Service.Http.OpenApi;

namespace SetWeek.Service.Tests.Http.OpenApi;

[Collection(ServiceCollection.Name)]
public sealed class ApiDescriptionTests(RunningService service)
{
    private static readonly JsonObject Description = DescribedAnswers.Description;

    private static IEnumerable<(string Path, string Method, JsonObject Operation)> Operations =>
        from path in Description["paths"]!.AsObject()
        from operation in path.Value!.AsObject()
        select (path.Key, operation.Key, operation.Value!.AsObject());

    [Fact]
    public async Task The_service_sends_the_description_to_anybody()
    {
        using var client = service.Host.Server.CreateClient();
        var sent = JsonNode.Parse(await client.GetStringAsync("/openapi/v1.json"));
        Assert.True(JsonNode.DeepEquals(Description, sent));
    }

    [Fact]
    public void A_third_party_reader_accepts_the_description_as_OpenAPI_3_1()
    {
        var read = OpenApiDocument.Parse(Description.ToJsonString(), OpenApiConstants.Json);
        Assert.Empty(read.Diagnostic!.Errors);
        Assert.Empty(read.Diagnostic.Warnings);
        Assert.Equal(OpenApiSpecVersion.OpenApi3_1, read.Diagnostic.SpecificationVersion);
        Assert.NotEmpty(read.Document!.Paths);
    }

    [Fact]
    public void Every_endpoint_is_described()
    {
        var mapped = service.Host.Services.GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints)
            .OfType<RouteEndpoint>().Where(IsDescribed).ToList();
        Assert.All(mapped, endpoint => Assert.Contains(Operations, operation => operation.Path == endpoint.RoutePattern.RawText));
        Assert.Equal(ApiDescription.Operations(mapped).Select(operation => operation.Id).Order(),
            Operations.Select(operation => (string)operation.Operation["operationId"]!).Order());
    }

    /// <summary>Files that pages load are no part of the API.</summary>
    private static bool IsDescribed(RouteEndpoint endpoint) =>
        !endpoint.RoutePattern.RawText!.StartsWith("/assets/", StringComparison.Ordinal)
            && endpoint.RoutePattern.RawText != OfflineEndpoint.Worker;

    /// <summary>RFC 6901: a reference is a JSON Pointer into the document.</summary>
    [Fact]
    public void Every_reference_leads_to_a_component_and_every_component_is_referred_to()
    {
        var references = References(Description).Distinct().ToList();
        Assert.NotEmpty(references);
        Assert.All(references, reference =>
        {
            Assert.StartsWith("#/components/", reference);
            Assert.NotNull(reference.Split('/').Skip(1).Aggregate((JsonNode?)Description, (at, name) => at?[name]));
        });
        Assert.All(Description["components"]!["schemas"]!.AsObject(),
            schema => Assert.Contains($"#/components/schemas/{schema.Key}", references));
    }

    [Fact]
    public void Every_operation_has_a_unique_id_a_summary_a_tag_and_error_responses()
    {
        Assert.Distinct(Operations.Select(listed => (string)listed.Operation["operationId"]!));
        foreach (var (path, method, operation) in Operations)
        {
            Assert.Matches("^[a-z][a-zA-Z]+$", (string)operation["operationId"]!);
            Assert.False(string.IsNullOrWhiteSpace((string?)operation["summary"]), $"{method} {path} has no summary.");
            Assert.False(string.IsNullOrWhiteSpace((string)Assert.Single(operation["tags"]!.AsArray())!));
            var responses = operation["responses"]!.AsObject();
            Assert.Contains(responses, response => response.Key[0] == '2');
            var isOpen = operation["security"] is JsonArray { Count: 0 };
            Assert.All(isOpen ? ["500", "503"] : (string[])["400", "401", "403", "500", "503"],
                status => Assert.True(responses.ContainsKey(status), $"{method} {path} does not say {status}."));
            Assert.All(path.Split('/').Where(part => part.StartsWith('{')), part => Assert.Contains(
                operation["parameters"]!.AsArray(), parameter => (string?)parameter!["name"] == part.Trim('{', '}')));
        }
    }

    [Fact]
    public void An_example_of_a_part_of_an_address_fits_its_schema_and_is_that_of_no_other_part()
    {
        var parts = Operations.SelectMany(listed => listed.Operation["parameters"]!.AsArray())
            .Where(parameter => (string?)parameter!["in"] == "path").Select(parameter => parameter!).ToList();
        Assert.All(parts, part => Assert.Empty(DescribedAnswers.ErrorsOf(part["schema"]!, part["example"]!.ToJsonString())));
        Assert.All(parts.Where(part => (string?)part["name"] != "id").GroupBy(part => part["example"]!.ToJsonString()),
            same => Assert.Single(same.Select(part => (string?)part["name"]).Distinct()));
        var number = parts.First(part => (string?)part["name"] == "number")["schema"]!;
        Assert.Equal(("integer", 1), ((string?)number["type"], (int)number["minimum"]!));
        Assert.NotEmpty(DescribedAnswers.ErrorsOf(number, "0"));
    }

    /// <summary>Every report of a queue has the members of its own operation. A generated client knows them so.</summary>
    [Fact]
    public void The_reports_of_a_queue_are_described_by_their_kinds()
    {
        var schema = DescribedAnswers.Description["components"]!["schemas"]!["TakeReportsBody"]!;
        Assert.Empty(DescribedAnswers.ErrorsOf(schema, Report("\"kind\": \"arrived\", \"kit\": \"forms\"")));
        Assert.NotEmpty(DescribedAnswers.ErrorsOf(schema, Report("\"kind\": \"arrived\"")));
        Assert.NotEmpty(DescribedAnswers.ErrorsOf(schema, Report("\"kind\": \"danced\", \"kit\": \"forms\"")));
        Assert.NotEmpty(DescribedAnswers.ErrorsOf(schema, Report("\"kind\": \"started\", \"kit\": \"forms\"")));

        static string Report(string more) =>
            $$"""{"reports": [{"id": "phone-1.1", "at": "2027-03-08T11:40:00Z", {{more}}}]}""";
    }

    [Fact]
    public void Only_the_start_the_description_health_calendars_sign_in_and_phones_need_no_token() => Assert.Equal(
        ["/", "/calendars/{calendar}", "/health/live", "/health/ready", "/offline", "/openapi/v1.json",
            "/phone", "/phone/enrolment", "/phone/pin", "/phone/session",
            "/sign-in/{link}", "/sign-in/{link}"],
        Operations.Where(operation => operation.Operation["security"] is JsonArray { Count: 0 })
            .Select(operation => operation.Path).Order(StringComparer.Ordinal));

    [Fact]
    public void Every_example_of_a_body_fits_its_schema()
    {
        foreach (var (path, method, operation) in Operations.Where(listed => listed.Operation.ContainsKey("requestBody")))
        {
            if (operation["requestBody"]!["content"]!["application/json"] is not { } media) continue; // an upload has no example
            var errors = DescribedAnswers.ErrorsOf(media["schema"]!, media["example"]!.ToJsonString());
            Assert.True(errors.Count == 0, $"{method} {path}: {string.Join("; ", errors)}");
        }
    }

    private static IEnumerable<string> References(JsonNode? node) => node switch
    {
        JsonObject members => members.SelectMany(member => member.Key == "$ref" && member.Value is JsonValue value
            ? [(string)value!] : References(member.Value)),
        JsonArray items => items.SelectMany(References),
        _ => [],
    };
}
