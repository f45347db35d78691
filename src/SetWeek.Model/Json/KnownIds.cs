namespace SetWeek.Model.Json;

/// <summary>The ids of one kind of thing, for checking references.</summary>
/// <param name="kind">The kind, as sentences name it.</param>
/// <param name="ids">The ids.</param>
/// <param name="complete">False if some ids could not be read; then no reference is reported as unknown.</param>
internal sealed class KnownIds(string kind, HashSet<string> ids, bool complete = true)
{
    /// <summary>Largest number of searches for a similar id. It bounds the time that a hostile file can cost.</summary>
    private const int MaxSuggestions = 20;

    private int suggestions;

    /// <summary>True if there is such an id.</summary>
    public bool Has(string id) => ids.Contains(id);

    /// <summary>A fault if the id is unknown; null if it is known, absent or empty.</summary>
    public Fault? UnknownIdFault(string pointer, string? id) =>
        string.IsNullOrEmpty(id) || !complete || ids.Contains(id) ? null
            : new Fault(pointer, $"There is no {kind} {QuotedInput.Of(id)}; {Suggestion(id)}.");

    private string Suggestion(string id)
    {
        if (ids.Count == 0) return "the week has none";
        if (++suggestions > MaxSuggestions) return "give the id of one that the week lists";
        var nearest = ids.Select(known => (Known: known, Distance: Distance(known, id)))
            .MinBy(pair => (pair.Distance, pair.Known));
        return nearest.Distance <= 2 ? $"perhaps {QuotedInput.Of(nearest.Known)} is meant"
            : ids.Count <= 8 ? $"give one of {string.Join(", ", ids.Select(QuotedInput.Of))}"
            : "give the id of one that the week lists";
    }

    /// <summary>Edit distance: characters to add, drop or replace (Levenshtein, 1966).</summary>
    private static int Distance(string first, string second)
    {
        var row = Enumerable.Range(0, second.Length + 1).ToArray();
        for (var i = 1; i <= first.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= second.Length; j++)
                (diagonal, row[j]) =
                    (row[j], Math.Min(Math.Min(row[j], row[j - 1]) + 1, diagonal + (first[i - 1] == second[j - 1] ? 0 : 1)));
        }
        return row[^1];
    }
}
