using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Photos;

/// <summary>A photograph as it is sent. Its address never shows another one, so that a browser keeps it.</summary>
internal static class PhotoAnswer
{
    /// <summary>Whoever works in the week or answers for it. A photograph may show people: engineers need none.</summary>
    public static Permission Readers => new(AccessScope.Week, Role.Lead, Role.Crew, Role.HeadOffice, Role.Region);

    /// <summary>The photographs of a week for a page; none for a reader who may not see them.</summary>
    public static async Task<IReadOnlyList<StoredPhoto>> PhotosOf(this Request request, IQuerySession session, string week) =>
        request.Caller.HasRole(Readers) ? await PhotoStore.List(session, week, request.Cancelled) : [];

    public static async Task<Answer> Of(Request request, IQuerySession session, bool thumbnail) =>
        await PhotoStore.Read(session, request.Id, request["photo"], thumbnail, request.Cancelled) is not { } picture
            ? Refused.Missing("photo", request["photo"])
            : new Answer(200)
            {
                Content = picture, ContentType = Picture.ContentType,
                CacheControl = "private, max-age=31536000, immutable", // RFC 8246
            };
}
