using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Photos;

public sealed class ReadPhoto : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/photos/{photo}", "readPhoto", "Reads a photograph")
    {
        MayUse = PhotoAnswer.Readers,
        Replies = [Reply.File("The photograph, upright, at most 2048 pixels on each side", Picture.ContentType)],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) =>
        PhotoAnswer.Of(request, session, thumbnail: false);
}
