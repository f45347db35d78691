using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using SetWeek.Service.Access;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Access;

/// <summary>
/// Every operation with every role, by token and by cookie, in its own chain and in another. The operations are found by their
/// metadata, so that new ones are tested too. A page has the address of what it shows, and is asked for too.
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

    /// <summary>What exists nowhere.</summary>
    private static readonly Dictionary<string, string> Ghosts = [];

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
            var answer = await Send(client, operation, Ghosts);
            // An answer to HEAD has no code.
            var refused = answer.Status == 403 && (answer.Text == "" || answer.Code == "other-role");
            if (answer.Status == 401 || refused == operation.MayUse.Roles.Contains(role))
                differences.Add($"{operation.Id}: {answer.Status} {answer.Text}");
        }
        Assert.Empty(differences);
    }

    [Theory]
    [MemberData(nameof(Callers))]
    public async Task A_role_opens_the_pages_that_name_it_and_reads_on_the_others_for_whom_they_are(Role role, bool byCookie)
    {
        var client = await As(service.NewChain(), role, byCookie);
        var differences = new List<string>();
        var pages = Operations.Where(HasPage).ToList();
        Assert.InRange(pages.Count, 40, int.MaxValue);
        foreach (var operation in pages)
        {
            var answer = await Send(client, operation, Ghosts, asPage: true);
            var isRight = operation.MayUse.Roles.Contains(role) ? answer.Status is 200 or 303 or 404
                : answer.Status == 403 && answer.Text.Contains($"This is for {Roles.People(operation.MayUse.Roles)}. ",
                    StringComparison.Ordinal);
            if (!isRight || answer.Status != 303 && answer.ContentType != "text/html")
                differences.Add($"{operation.Id}: {answer.Status} {answer.Text}");
        }
        Assert.Empty(differences);
    }

    /// <summary>
    /// Whoever may do everything in one chain finds nothing in another, and changes nothing there. KitDelayTests ask for the
    /// delayed kits of another chain.
    /// </summary>
    [Theory]
    [InlineData(true), InlineData(false)]
    public async Task Nobody_reaches_anything_of_another_chain(bool byCookie)
    {
        var (chain, foreign) = (service.NewChain(), service.NewChain());
        var ids = await Filled(chain);
        var before = await service.EventsOf(chain);
        var clients = new Dictionary<Role, ApiClient>();
        var differences = new List<string>();
        foreach (var scope in (AccessScope[])[AccessScope.Week, AccessScope.Store, AccessScope.Chain])
            Assert.Contains(Reaching, operation => operation.MayUse.Scope == scope && operation.Path.Contains("{id}"));
        Assert.InRange(Reaching.Count(operation => operation.MayUse.Scope == AccessScope.Week), 30, int.MaxValue);
        foreach (var operation in Reaching)
            foreach (var role in operation.MayUse.Roles)
            {
                if (!clients.TryGetValue(role, out var client)) clients[role] = client = await As(foreign, role, byCookie);
                foreach (var asPage in Forms(operation))
                {
                    var answer = await Send(client, operation, ids, asPage);
                    var isRight = !operation.Path.Contains('{') ? answer.Status is 200 or 303
                        : answer.Status == 404 || operation.Body is not null && answer.Status == 400
                            // What it answers for an id that exists nowhere tells nothing either.
                            || operation.MayUse.Scope != AccessScope.Week
                                && answer.Status == (await Send(client, operation, Ghosts, asPage)).Status;
                    if (!isRight || Tells(answer, operation))
                        differences.Add($"{operation.Id} as {role}: {answer.Status} {answer.Text}");
                }
            }
        Assert.Empty(differences);
        Assert.Equal(before, await service.EventsOf(chain));
        Assert.Equal("", await service.EventsOf(foreign));
    }

    /// <summary>The same for another store of the chain.</summary>
    [Theory]
    [InlineData(Role.Lead, true), InlineData(Role.Lead, false), InlineData(Role.Crew, true), InlineData(Role.Crew, false)]
    [InlineData(Role.Region, true), InlineData(Role.Region, false)]
    public async Task Nobody_reaches_anything_of_a_store_that_is_not_theirs(Role role, bool byCookie)
    {
        var chain = service.NewChain();
        var ids = await Filled(chain);
        await FirstRain.ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")));
        var before = await service.EventsOf(chain);
        var client = await As(chain, role, byCookie, "mill-lane");
        var differences = new List<string>();
        foreach (var operation in Reaching.Where(operation => operation.MayUse.Roles.Contains(role)))
            foreach (var asPage in Forms(operation))
            {
                var answer = await Send(client, operation, ids, asPage);
                var isRight = operation.MayUse.Scope switch
                {
                    AccessScope.Week => answer.Status == 404 || operation.Body is not null && answer.Status == 400,
                    AccessScope.Store => answer.Status == 403,
                    _ => answer.Status < 500,
                };
                // A direction is for all stores of the chain.
                if (!isRight || !operation.Path.StartsWith("/directions", StringComparison.Ordinal) && Tells(answer, operation))
                    differences.Add($"{operation.Id}: {answer.Status} {answer.Text}");
            }
        Assert.Empty(differences);
        Assert.Equal(before, await service.EventsOf(chain));
    }

    [Fact]
    public async Task Every_page_says_in_its_foot_who_may_use_it()
    {
        var chain = service.NewChain();
        var ids = await Filled(chain);
        var week = new FirstRain(chain);
        var plan = await week.Plan();
        ids["{plan}"] = (string)plan["id"]!;
        await FirstRain.ExpectStatus(204, week.Publish(plan, await week.ETag()));
        var sheet = await FirstRain.ExpectStatus(200, week.Lead.Get($"{FirstRain.Address}/nights/monday/sheet"));
        ids["{number}"] = sheet.Json["pieces"]![0]!["number"]!.ToString();
        var raised = await FirstRain.ExpectStatus(201, week.Lead.Post($"{FirstRain.Address}/snags", """
            {"id": "s1", "at": "2027-03-08T12:00:00+00:00", "what": "Skirting chipped", "zone": "window", "owner": "store",
             "due": "2027-03-12", "safety": false}
            """));
        ids["{snag}"] = raised.Json["snag"]!.ToString();
        var delay = await FirstRain.ExpectStatus(202, chain.HeadOffice.Post("/kit-delays",
            """{"direction": "first-rain", "kit": "none", "eta": null}"""));
        ids["kit-delays"] = (string)delay.Json["id"]!;
        var (others, clients) = (new List<string>(), new Dictionary<Role, ApiClient>());
        foreach (var role in Roles.All) clients[role] = await As(chain, role, byCookie: true);
        foreach (var operation in Operations.Where(HasPage))
        {
            var answer = await Send(clients[operation.MayUse.Roles[0]], operation, ids, asPage: true);
            if (answer.Status != 200) others.Add($"{operation.Id}: {answer.Status}");
            else if (LastOfFoot(answer) is var last && last != operation.MayUse.Sentence) others.Add($"{operation.Id}: {last}");
        }
        // Once a plan is published, the page of tonight is that of its night.
        Assert.Equal(["findTonight: 303"], others);

        var lead = clients[Role.Lead];
        foreach (var (address, sentence) in new[]
        {
            ("/", "For everybody."), ("/stores", "For everybody who is signed in."),
            ("/stores/harbour-street", "For everybody who is signed in for this store."),
            ($"{FirstRain.Address}/facts/rules", "For leads and head office."), ($"{FirstRain.Address}/facts/crew", "For leads."),
            ($"{FirstRain.Address}/facts/crew/p1", "For leads."), ("/snags", "For head office, readers of a region and leads."),
        })
            Assert.Equal(sentence, LastOfFoot(await FirstRain.ExpectStatus(200, lead.Get(address, ("Accept", "text/html")))));
        using var nobody = new Browser(service.Host, tls: false);
        foreach (var address in new[] { "/", "/phone" })
            Assert.Equal("For everybody.", LastOfFoot(await nobody.Api.Get(address, ("Accept", "text/html"))));
        var refused = await lead.Get("/followers", ("Accept", "text/html"));
        Assert.Equal(403, refused.Status);
        Assert.Equal("Sign out", Assert.Single(Markup.Of(refused.Text).Descendants("footer")).Value.Trim());
    }

    private static string LastOfFoot(ApiResponse page) =>
        Assert.Single(Markup.Of(page.Text).Descendants("footer")).Descendants("p").Last().Value;

    /// <summary>
    /// A chain with a week, and a memo and a webhook of its own. The ids stand under the part of the address before {id}, or
    /// under the name of their own part.
    /// </summary>
    private static async Task<Dictionary<string, string>> Filled(Chain chain)
    {
        await new FirstRain(chain).Open();
        var memo = await FirstRain.ExpectStatus(201, chain.HeadOffice.Post("/memos",
            """{"direction": "first-rain", "text": "The lower hook is weak.", "safety": true, "stores": ["harbour-street"]}"""));
        await FirstRain.ExpectStatus(201, chain.HeadOffice.Post("/webhooks",
            """{"id": "ops-board", "url": "http://127.0.0.1:9/board", "types": ["setweek.work-blocked.v1"]}"""));
        return new()
        {
            ["weeks"] = FirstRain.Id, ["stores"] = "harbour-street", ["directions"] = "first-rain",
            ["memos"] = (string)memo.Json["id"]!, ["webhooks"] = "ops-board",
            ["{night}"] = "monday", ["{person}"] = "p1", ["{kit}"] = "forms", ["{display}"] = "wall", ["{task}"] = "wall.paint",
            ["{kind}"] = "tasks", ["{item}"] = "wall.paint",
        };
    }

    /// <summary>
    /// Whether an answer has something of the chain that <see cref="Filled"/> makes. What was asked for may come back in it.
    /// </summary>
    private static bool Tells(ApiResponse answer, Operation operation) =>
        ((string[])["Harbour Street", "Asha Rowan", "Painted wall", "lower hook", "127.0.0.1:9/",
            .. operation.Path.Contains('{') ? (string[])[] : [FirstRain.Id, "ops-board"]])
            .Any(words => answer.Text.Contains(words, StringComparison.Ordinal));

    /// <summary>Those that read, or that name in their address what they change.</summary>
    private List<Operation> Reaching =>
        [.. Operations.Where(operation => operation.Method == "GET" || operation.Path.Contains('{'))];

    private static bool HasPage(Operation operation) =>
        operation.Method == "GET" && operation.Replies.Any(reply => reply.ContentType == "text/html");

    private static bool[] Forms(Operation operation) => HasPage(operation) ? [false, true] : [false];

    private static async Task<ApiClient> As(Chain chain, Role role, bool byCookie, params string[] stores) =>
        byCookie ? (await chain.SignedIn("someone", role, stores)).Api : chain.As("someone", role, stores);

    /// <summary>A stream does not end, so that HEAD asks for it. A page ends, also at the address of a stream.</summary>
    private static Task<ApiResponse> Send(
        ApiClient client, Operation operation, Dictionary<string, string> ids, bool asPage = false)
    {
        var isStream = !asPage && operation.Replies.Any(reply => reply.ContentType == "text/event-stream");
        (string, string)[] headers = asPage ? [("If-Match", "\"1\""), ("Accept", "text/html")] : [("If-Match", "\"1\"")];
        return client.Send(isStream ? HttpMethod.Head : new HttpMethod(operation.Method), AddressOf(operation.Path, ids),
            operation.Body?.Example, headers);
    }

    private static string AddressOf(string path, Dictionary<string, string> ids) => Regex.Replace(
        Regex.Replace(path, @"(?<=/([\w-]+)/)\{id\}", part => ids.GetValueOrDefault(part.Groups[1].Value, "ghost")),
        @"\{\w+\}", part => ids.GetValueOrDefault(part.Value, part.Value == "{number}" ? "1" : "ghost"));
}
