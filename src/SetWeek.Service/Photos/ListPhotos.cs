using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Photos;
using SetWeek.Service.Pictures;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

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
        Replies =
        [
            new(200, "The photographs in the order of their arrival, as JSON or as a page (Accept: text/html)", typeof(View)),
            Reply.Page("The latest first, with what each belongs to, and a form to erase it for lead and head office"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var photos = await PhotoStore.List(session, request.Id, request.Cancelled);
        return request.WantsPage ? await Page(request, session, photos)
            : Answer.Ok(new View([.. photos.Select(photo => new PhotoEntry(
                photo.Id, photo.Person, photo.Added, photo.Width, photo.Height, StoredPhoto.AddressOf(request.Id, photo.Id),
                StoredPhoto.ThumbnailOf(request.Id, photo.Id)))]));
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, IReadOnlyList<StoredPhoto> photos)
    {
        if ((await Streams.Week(session, request.Id, request.Cancelled)).State is not { } week)
            return Refused.Missing("week", request.Id);
        var (subjects, crew) = (PhotoSubjects.Of(week), await session.CrewOf(week.Id, request.Cancelled));
        return await request.Page<PhotosPage, PhotosPage.Content>(new(
            await session.TitleOf(week, request.Cancelled), week.Id, week.Week.Store.TimeZone,
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Photographs"), request.ReaderIn(crew),
            [
                .. photos.Reverse().Select(photo =>
                    (photo, (IReadOnlyList<PhotosPage.Subject>)[.. subjects[photo.Id]], Sent(photo))),
            ],
            request.Caller.HasRole(ErasePhoto.Operation.MayUse) ? request.FormToken() : null));

        // Who sent it is said in the store alone.
        string Sent(StoredPhoto photo)
        {
            var at = photo.Added.InZone(StoreTime.ZoneOf(week)).LocalDateTime;
            var by = request.Caller.Role is Role.Lead or Role.Crew ? $" by {crew.Find(photo.Person)?.Name ?? photo.Person}" : "";
            return $"Sent{by}, {WeekLabels.Day(at)}, {WeekLabels.Time(at)}.";
        }
    }
}
