using Marten;
using NodaTime;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Photos;

public sealed class ListPhotos : IQuery
{
    public sealed record View(IReadOnlyList<PhotoEntry> Photos);

    /// <param name="Person">The id of the person who sent it.</param>
    /// <param name="Added">When the service received it.</param>
    /// <param name="Width">In pixels.</param>
    /// <param name="Height">In pixels.</param>
    public sealed record PhotoEntry(
        string Id, string Person, Instant Added, int Width, int Height, string Address, string Thumbnail);

    public static Operation Operation => new("GET", "/weeks/{id}/photos", "listPhotos", "Lists the photographs of a week")
    {
        MayUse = PhotoAnswer.Readers,
        Replies = [new(200, "The photographs in the order of their arrival", typeof(View))],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) => Answer.Ok(new View(
        [.. (await PhotoStore.List(session, request.Id, request.Cancelled)).Select(photo => new PhotoEntry(
            photo.Id, photo.Person, photo.Added, photo.Width, photo.Height, StoredPhoto.AddressOf(request.Id, photo.Id),
            StoredPhoto.ThumbnailOf(request.Id, photo.Id)))]));
}
