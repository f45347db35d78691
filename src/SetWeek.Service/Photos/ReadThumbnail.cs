using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Photos;

public sealed class ReadThumbnail : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/photos/{photo}/thumbnail", "readThumbnail",
        "Reads a photograph, small")
    {
        MayUse = PhotoAnswer.Readers,
        Replies = [Reply.File("The photograph, at most 320 pixels on each side", Picture.ContentType)],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) =>
        PhotoAnswer.Of(request, session, thumbnail: true);
}
