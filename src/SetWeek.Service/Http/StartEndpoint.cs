using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;

namespace SetWeek.Service.Http;

/// <summary>The address "/": names the service and links its description.</summary>
public static class StartEndpoint
{
    private const string Name = "SetWeek",
        Purpose = "Plans the set week of a store, night by night, and re-plans it when something changes.";

    /// <param name="Description">The address of the OpenAPI description.</param>
    public sealed record Start(string Name, string Purpose, string Description);

    private static readonly Operation Operation = new("GET", "/", "readStart", "Names the service and links its description")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = "Description",
        Replies =
        [
            new(200, "The service, as JSON or as a page (Accept: text/html)", typeof(Start)) { HasLink = true },
            Reply.Page("The same as a page"),
        ],
    };

    /// <param name="ways">Adds where the caller goes on.</param>
    public static void Map(IEndpointRouteBuilder routes,
        Func<HttpContext, StartPage.Start, Caller, Task<StartPage.Start>> ways) =>
        routes.Open(Operation, async http =>
        (ContentNegotiation.Preferred(http.Request.Headers.Accept, ["application/json", "text/html"]) == "text/html"
            ? await http.Page<StartPage, StartPage.Start>(await PageOf(http, ways))
            : Answer.Ok(new Start(Name, Purpose, ApiDescription.Path)))
            with { Link = $"<{ApiDescription.Path}>; rel=\"service-desc\"" }); // RFC 8631, section 3

    private static async Task<StartPage.Start> PageOf(
        HttpContext http, Func<HttpContext, StartPage.Start, Caller, Task<StartPage.Start>> ways)
    {
        var start = new StartPage.Start(Name, Purpose, ApiDescription.Path, SignedIn.Of(http));
        return start.SignedIn?.Caller is { } caller ? await ways(http, start, caller) : start;
    }
}
