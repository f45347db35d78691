using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Offline;

namespace SetWeek.Service.Http;

/// <summary>
/// What the service worker of the pages needs at addresses of its own: itself, and the page for want of a connection.
/// </summary>
public static class OfflineEndpoint
{
    /// <summary>At the root, because a worker reaches only the addresses below its own.</summary>
    public const string Worker = "/service-worker.js";

    private static readonly Operation Operation = new("GET", "/offline", "readOffline",
        "The page that a device keeps and shows when it has no connection")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = "Description",
        Replies = [Reply.Page("The page")],
    };

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.Open(Operation, async _ => Answer.Page(await PageRenderer.Render<OfflinePage, OfflinePage.Nothing>(new())));
        routes.MapMethods(Worker, [HttpMethods.Get, HttpMethods.Head], http => PageFiles.SendWorker(http)).AllowAnonymous();
    }
}
