using System.Globalization;
using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Weeks;

/// <summary>Reads the notes on the events of a week.</summary>
internal static class WeekNotes
{
    /// <returns>By version of the event; null if the caller may not read notes: only leads may.</returns>
    public static async Task<IReadOnlyDictionary<long, string>?> NotesOf(
        this Request request, IQuerySession session, string stream)
    {
        if (request.Caller.Role != Role.Lead) return null;
        var prefix = Note.IdOf(stream, 0)[..^1];
        var notes = await session.Query<Note>().Where(note => note.Id.StartsWith(prefix)).ToListAsync(request.Cancelled);
        return notes.ToDictionary(note => VersionOf(note.Id[prefix.Length..]), note => note.Text);
    }

    private static long VersionOf(string digits) => long.Parse(digits, NumberStyles.None, CultureInfo.InvariantCulture);
}
