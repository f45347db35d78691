using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using SetWeek.Service.Access;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Access;

/// <summary>
/// Every operation with every role, by token and by cookie, in its own chain and in another. The operations are found by their
/// metadata, so that new ones are tested too.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class EveryOperationTests(RunningService service)
{
    public static TheoryData<Role, bool> Callers
    {
        get
        {
            var callers = new TheoryData<Role, bool>();
            foreach (var role in Roles.All)
            {
                callers.Add(role, true);
                callers.Add(role, false);
            }
            return callers;
        }
    }

    /// <summary>Signing out would end the session of the test; SessionTests do it.</summary>
    private List<Operation> Operations =>
        [.. ApiDescription.Operations(service.Host.Services.GetServices<EndpointDataSource>()
            .SelectMany(source => source.Endpoints)).Where(operation => !operation.IsOpen
                && !operation.Path.StartsWith("/sign-out", StringComparison.Ordinal))];

    [Theory]
    [MemberData(nameof(Callers))]
    public async Task A_role_may_use_what_names_it_and_nothing_else(Role role, bool byCookie)
    {
        var chain = service.NewChain();
        var client = await As(chain, role, byCookie);
        var differences = new List<string>();
        Assert.InRange(Operations.Count, 60, int.MaxValue);
        foreach (var operation in Operations)
        {
            var answer = await Send(client, operation, "ghost");
            // An answer to HEAD has no code.
            var refused = answer.Status == 403 && (answer.Text == "" || answer.Code == "other-role");
            if (answer.Status == 401 || refused == operation.MayUse.Roles.Contains(role))
                differences.Add($"{operation.Id}: {answer.Status} {answer.Text}");
        }
        Assert.Empty(differences);
    }

    /// <summary>Whoever may do everything in one chain finds nothing in another, and changes nothing there.</summary>
    [Theory]
    [InlineData(true), InlineData(false)]
    public async Task Nobody_reaches_a_week_of_another_chain(bool byCookie)
    {
        var (chain, foreign) = (service.NewChain(), service.NewChain());
        await new FirstRain(chain).Open();
        var before = await service.EventsOf(chain);
        var clients = new Dictionary<Role, ApiClient>();
        var ofWeek = Operations.Where(operation => operation.MayUse.Scope == AccessScope.Week).ToList();
        Assert.InRange(ofWeek.Count, 30, int.MaxValue);
        foreach (var operation in ofWeek)
            foreach (var role in operation.MayUse.Roles)
            {
                if (!clients.TryGetValue(role, out var client))
                    clients[role] = client = await As(foreign, role, byCookie);
                var answer = await Send(client, operation, FirstRain.Id);
                Assert.True(answer.Status == 404 || operation.Body is not null && answer.Status is 400,
                    $"{operation.Id} as {role}: {answer.Status} {answer.Text}");
            }
        Assert.Equal(before, await service.EventsOf(chain));
        Assert.Equal("", await service.EventsOf(foreign));
    }

    private static async Task<ApiClient> As(Chain chain, Role role, bool byCookie) =>
        byCookie ? (await chain.SignedIn("someone", role)).Api : chain.As("someone", role);

    /// <summary>A stream does not end, so that HEAD asks for it.</summary>
    private static Task<ApiResponse> Send(ApiClient client, Operation operation, string id) => client.Send(
        operation.Replies.Any(reply => reply.ContentType == "text/event-stream") ? HttpMethod.Head
            : new HttpMethod(operation.Method),
        Regex.Replace(operation.Path.Replace("{id}", id).Replace("{number}", "1"), @"\{\w+\}", "ghost"),
        operation.Body?.Example, ("If-Match", "\"1\""));
}
