using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Marten;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using SetWeek.Service.Access;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Http.OpenApi;

/// <summary>
/// The description and the readers of bodies agree. Each example is sent as it is, without each of its members in turn, and with
/// an unknown member in each of its objects. The week of the addresses has a store and no events, so that a body that is read
/// well is answered 404 and nothing is computed.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class RequestFormTests(RunningService service)
{
    private const string Ghost = "ghost";

    /// <summary>
    /// A display that is wanted needs a value, and what a change or an edit needs depends on its kind. The description says none
    /// of it.
    /// </summary>
    private static readonly HashSet<(string Operation, string Pointer)> DependOnOthers =
    [
        ("issueDirection", "/displays/1/value"), ("reviseDirection", "/displays/1/value"), ("tryChanges", "/changes/0/kit"),
        ("tryChanges", "/changes/0/eta"), ("tryChanges", "/changes/1/value"), ("acceptChanges", "/changes/0/night"),
        ("acceptChanges", "/changes/1/value"), ("setDisplay", "/value"),
    ];

    private IEnumerable<Operation> WithBody =>
        ApiDescription.Operations(service.Host.Services.GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints))
            .Where(operation => operation.Body is not null);

    [Fact]
    public async Task Every_example_is_read_without_a_fault()
    {
        var chain = await ChainWithGhost();
        foreach (var operation in WithBody)
        {
            var answer = await Send(chain, operation, operation.Body!.Example);
            Assert.True(answer.Status is not (400 or 415), $"{operation.Id}: {answer.Text}");
        }
    }

    [Fact]
    public async Task What_the_description_requires_the_service_misses_and_the_reverse()
    {
        var (chain, count, differences) = (await ChainWithGhost(), 0, new List<string>());
        foreach (var operation in WithBody)
            foreach (var (pointer, body) in WithoutEachMember(operation.Body!.Example))
            {
                count++;
                if (DependOnOthers.Contains((operation.Id, pointer))) continue;
                var accepted = DescribedAnswers.ErrorsOf(SchemaOf(operation), body).Count == 0;
                var (status, problem) = Verdict(await Send(chain, operation, body), operation, pointer);
                var missed = status == 400 && problem!["errors"]!.AsArray().Any(fault =>
                    ((string)fault!["pointer"]! == pointer) && ((string)fault["detail"]!).Contains("is missing"));
                if (accepted ? missed : status != 400)
                    differences.Add($"{operation.Id} without {pointer}: the description "
                        + (accepted ? "accepts" : "refuses") + $" it, the service answers {status} {problem?.ToJsonString()}");
            }
        Assert.Empty(differences);
        Assert.InRange(count, 150, int.MaxValue);
    }

    [Fact]
    public async Task An_unknown_member_is_refused_as_described()
    {
        var (chain, differences) = (await ChainWithGhost(), new List<string>());
        foreach (var operation in WithBody)
            foreach (var (pointer, body) in WithUnknownMembers(operation.Body!.Example))
            {
                if (DescribedAnswers.ErrorsOf(SchemaOf(operation), body).Count == 0)
                    differences.Add($"{operation.Id}: the description accepts an unknown member at {pointer}");
                if (Verdict(await Send(chain, operation, body), operation, pointer) is { Status: not 400 } verdict)
                    differences.Add($"{operation.Id}: an unknown member at {pointer} is answered {verdict.Status}");
            }
        Assert.Empty(differences);
    }

    /// <summary>The answer to a body; to a fault in an item of a list of bodies, the answer to that item.</summary>
    private static (int Status, JsonNode? Problem) Verdict(ApiResponse answer, Operation operation, string pointer)
    {
        if (answer.Status != 200 || operation.Body!.Items is not { } items
            || pointer.Split('/') is not ["", var list, var index, ..] || list != items.List)
            return (answer.Status, answer.Text.StartsWith('{') ? answer.Json : null);
        var item = answer.Json["answers"]![int.Parse(index, null)]!;
        return ((int)item["status"]!, item["problem"]);
    }

    private static JsonNode SchemaOf(Operation operation) =>
        DescribedAnswers.Description["paths"]![operation.Path]![operation.Method.ToLowerInvariant()]!["requestBody"]!["content"]!
            ["application/json"]!["schema"]!;

    private static IEnumerable<(string Pointer, string Body)> WithoutEachMember(string example)
    {
        foreach (var (at, members) in Objects(JsonNode.Parse(example)!, ""))
            foreach (var (name, value) in members.ToList())
            {
                members.Remove(name);
                yield return ($"{at}/{name}", members.Root.ToJsonString());
                members.Add(name, value);
            }
    }

    /// <summary>Skills are named by the chain, so that every name is known there.</summary>
    private static IEnumerable<(string Pointer, string Body)> WithUnknownMembers(string example)
    {
        foreach (var (at, members) in Objects(JsonNode.Parse(example)!, ""))
        {
            if (at.EndsWith("/skills", StringComparison.Ordinal)) continue;
            members.Add("zzz", 1);
            yield return ($"{at}/zzz", members.Root.ToJsonString());
            members.Remove("zzz");
        }
    }

    private static IEnumerable<(string Pointer, JsonObject Members)> Objects(JsonNode? node, string at) => node switch
    {
        JsonObject members => members.ToList().SelectMany(member => Objects(member.Value, $"{at}/{member.Key}"))
            .Prepend((at, members)),
        JsonArray items => items.Index().ToList().SelectMany(item => Objects(item.Item, $"{at}/{item.Index}")),
        _ => [],
    };

    private async Task<Chain> ChainWithGhost()
    {
        var chain = service.NewChain();
        await using var session = service.Host.Services.GetRequiredService<IDocumentStore>().LightweightSession(chain.Tenant);
        session.Store(new WeekPlace(Ghost, "harbour-street"));
        await session.SaveChangesAsync();
        return chain;
    }

    /// <summary>A phone on which nobody is signed in sends the form token of its page, which is checked before the body.</summary>
    private static async Task<ApiResponse> Send(Chain chain, Operation operation, string body)
    {
        using var phone = operation.IsOpen ? await chain.Phone() : null;
        var role = operation.MayUse.Roles.Contains(Role.Lead) ? Role.Lead : operation.MayUse.Roles.FirstOrDefault();
        return await (phone?.Api ?? chain.As("someone", role)).Send(
            new HttpMethod(operation.Method), Regex.Replace(operation.Path, @"\{\w+\}", Ghost), body, ("If-Match", "\"1\""));
    }
}
