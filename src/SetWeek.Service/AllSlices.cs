using SetWeek.Service.Feed;
using SetWeek.Service.Stores;
using SetWeek.Service.Web;

namespace SetWeek.Service;

/// <summary>The API's table of contents: a new slice is its file and its line here.</summary>
public static class AllSlices
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.Command<OpenStore>();
        routes.Query<ReadStore>();

        routes.Query<ReadFeed>();
    }
}
