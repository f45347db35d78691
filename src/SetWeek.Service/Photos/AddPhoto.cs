using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Photos;

/// <summary>Answers an upload by a program. The photograph was kept before it runs.</summary>
public sealed class AddPhoto : ICommand
{
    /// <param name="Address">The photograph, as JPEG.</param>
    /// <param name="Thumbnail">The same, at most 320 pixels on each side.</param>
    public sealed record Added(string Id, string Address, string Thumbnail);

    public static Operation Operation => new("POST", "/weeks/{id}/photos", "addPhoto",
        "Adds a photograph: JPEG, PNG or WebP of at most 8 MiB. What else the file holds, such as the place, is not kept")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.Upload,
        Replies = [new(201, "It is kept; the same id with the same file changes nothing", typeof(Added))],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Photo is not { Id: { } id })
            return Task.FromResult(Refused.With(400,
                "Send multipart/form-data with the fields photoId and photo, a file.", "no-photo"));
        var address = StoredPhoto.AddressOf(request.Id, id);
        return Task.FromResult(Answer.Created(address, new Added(id, address, StoredPhoto.ThumbnailOf(request.Id, id))));
    }
}
