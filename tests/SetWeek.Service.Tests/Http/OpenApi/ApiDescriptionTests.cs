using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Microsoft.OpenApi;

namespace SetWeek.Service.Tests.Http.OpenApi;

[Collection(ServiceCollection.Name)]
public sealed class ApiDescriptionTests(RunningService service)
{
    private async Task<JsonObject> Description() => (await service.NewChain().HeadOffice.Get("/openapi/v1.json")).Json.AsObject();

    private static IEnumerable<(string Path, string Method, JsonObject Operation)> Operations(JsonObject description) =>
        from path in description["paths"]!.AsObject()
        from operation in path.Value!.AsObject()
        select (path.Key, operation.Key, operation.Value!.AsObject());

    [Fact]
    public async Task A_third_party_reader_accepts_the_description_as_OpenAPI_3_1()
    {
        var read = OpenApiDocument.Parse((await Description()).ToJsonString(), OpenApiConstants.Json);
        Assert.Empty(read.Diagnostic!.Errors);
        Assert.Equal(OpenApiSpecVersion.OpenApi3_1, read.Diagnostic.SpecificationVersion);
        Assert.NotEmpty(read.Document!.Paths);
    }

    [Fact]
    public async Task Every_operation_has_a_unique_id_a_summary_a_tag_and_error_responses()
    {
        var operations = Operations(await Description()).ToList();
        Assert.Distinct(operations.Select(listed => (string)listed.Operation["operationId"]!));
        foreach (var (path, method, operation) in operations)
        {
            Assert.Matches("^[a-z][a-zA-Z]+$", (string)operation["operationId"]!);
            Assert.False(string.IsNullOrWhiteSpace((string?)operation["summary"]), $"{method} {path} has no summary.");
            Assert.Single(operation["tags"]!.AsArray());
            var responses = operation["responses"]!.AsObject();
            Assert.Contains(responses, response => response.Key[0] == '2');
            Assert.All(["401", "403"],
                status => Assert.True(responses.ContainsKey(status), $"{method} {path} does not say {status}."));
        }
    }

    [Fact]
    public async Task Every_example_of_a_body_fits_its_schema()
    {
        var description = await Description();
        foreach (var (path, method, operation) in Operations(description)
            .Where(listed => listed.Operation.ContainsKey("requestBody")))
        {
            var media = operation["requestBody"]!["content"]!["application/json"]!;
            var name = ((string)media["schema"]!["$ref"]!).Split('/')[^1];
            var schema = JsonSchema.FromText(description["components"]!["schemas"]![name]!.ToJsonString());
            var result = schema.Evaluate(JsonDocument.Parse(media["example"]!.ToJsonString()).RootElement,
                new EvaluationOptions { OutputFormat = OutputFormat.List });
            Assert.True(result.IsValid,
                $"{method} {path}: {string.Join("; ", result.Details?.Where(detail => detail.Errors is not null)
                .Select(detail => $"{detail.InstanceLocation} {string.Join(", ", detail.Errors!.Values)}") ?? [])}");
        }
    }
}
