using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Http;

/// <summary>
/// Keeps the photograph of a form, before the slice runs whose body names it. It is a fact of its own with an id of its device,
/// so that it may stay where the rest of the form is refused: the same form, sent again, finds it.
/// </summary>
internal static class PhotoIntake
{
    /// <returns>Null if it is kept; otherwise the refusal, and nothing is stored.</returns>
    public static async Task<Answer?> Keep(IDocumentSession session, Request request, FormPhoto photo)
    {
        if (photo.Id is not { } id || !Ids.IsId(id))
            return Refused.With(400, "The photograph has no valid id. Give it one: lowercase letters, digits, dots and hyphens.",
                "photo-without-id");
        var hash = PhotoStore.HashOf(photo.Content);
        if (await PhotoStore.SentHash(session, request.Id, id, request.Cancelled) is { } known)
            return known.AsSpan().SequenceEqual(hash) ? null : Used(id);
        var read = await request.Admission.Admit(
            request.Caller.Tenant, _ => PictureReader.Read(photo.Content), request.Cancelled);
        if (read.TryPickT1(out var busy, out var result)) return busy;
        if (result.TryPickT1(out var refusal, out var picture)) return Refused.With(422, refusal.Sentence, refusal.Code);
        return await PhotoStore.Add(session, request.Id,
            new StoredPhoto(id, request.Caller.Person, request.Now, picture.Width, picture.Height), picture, hash,
            request.Cancelled)
            ? null : Used(id);
    }

    private static Answer Used(string id) => Refused.With(409,
        $"The id \"{id}\" is used already by another photograph. Give this one an id of its own.", "photo-id-used");
}
