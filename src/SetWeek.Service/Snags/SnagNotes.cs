using Marten;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Snags;

/// <summary>
/// The free texts of snags: notes beside their reports, which can be erased. Whoever may read a snag may read them.
/// </summary>
internal static class SnagNotes
{
    public const int Longest = 500;

    /// <summary>The id of the note with what a report says: what is wrong, or how it was put right.</summary>
    public static string IdOf(string week, string report) => $"snag/{week}/{report}";

    /// <summary>The id of the note with the cause of a snag.</summary>
    public static string CauseIdOf(string week, string report) => $"snag-cause/{week}/{report}";

    /// <summary>Every id of a week's notes on snags begins with one of these.</summary>
    public static IReadOnlyList<string> PrefixesOf(string week) => [IdOf(week, ""), CauseIdOf(week, "")];

    public static IReadOnlyList<Note> Of(string week, string report, string? text, string? cause = null) =>
    [
        .. text is null ? [] : (Note[])[new(IdOf(week, report), text)],
        .. cause is null ? [] : (Note[])[new(CauseIdOf(week, report), cause)],
    ];

    /// <summary>The texts by the id of their note; those that are erased or never were are left out.</summary>
    public static async Task<IReadOnlyDictionary<string, string>> Read(
        IQuerySession session, IEnumerable<string> ids, CancellationToken cancelled)
    {
        var asked = ids.ToArray();
        if (asked.Length == 0) return new Dictionary<string, string>();
        return (await session.LoadManyAsync<Note>(cancelled, asked)).ToDictionary(note => note.Id, note => note.Text);
    }
}
