namespace SetWeek.Model.Json;

/// <summary>The ids of a kind. Where not all of them could be read (whole), nothing is called unknown.</summary>
internal sealed class KnownIds(string kind, HashSet<string> ids, bool complete = true)
{
    /// <summary>Looking for a likeness takes long enough that a hostile file must not have it done without end.</summary>
    private const int MaxSuggestions = 20;

    private int suggestions;

    public bool Has(string id) => ids.Contains(id);

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
            : ids.Count <= 8 ? $"give one of {string.Join(", ", ids.Select(QuotedInput.Of))}" : "give the id of one that the week lists";
    }

    /// <summary>Characters to add, drop or replace (Levenshtein).</summary>
    private static int Distance(string one, string other)
    {
        var row = Enumerable.Range(0, other.Length + 1).ToArray();
        for (var i = 1; i <= one.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= other.Length; j++)
                (diagonal, row[j]) =
                    (row[j], Math.Min(Math.Min(row[j], row[j - 1]) + 1, diagonal + (one[i - 1] == other[j - 1] ? 0 : 1)));
        }
        return row[^1];
    }
}
