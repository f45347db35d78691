namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Dual feasible functions over lengths up to W: what they make of lengths that fit into W together sums to W at most.
/// The two families of Fekete and Schepers ("New classes of fast lower bounds for bin packing problems", 2001, from memory):
/// above W - e counts whole and below e not at all; and multiples of W/k rounded.
/// </summary>
internal static class DualFeasible
{
    public static IEnumerable<Func<int, long>> Of(int most, IEnumerable<int> lengths)
    {
        if (most <= 0) yield break;
        foreach (var small in lengths.Where(length => length > 0 && 2 * length <= most).Distinct().Order())
            yield return length => length > most - small ? most : length < small ? 0 : length;
        // More than half: no two of them fit into one night's work of one person.
        yield return length => 2 * length > most ? most : 2 * length == most ? most / 2 : 0;
        // Scaled so that it stays whole: thirds.
        yield return length => 3 * length > 2 * most ? most : 3 * length > most ? most / 2 : 0;
    }

    /// <summary>
    /// Most that lengths which fit into a person's own minutes can come to: the functions grow faster than sums do.
    /// </summary>
    public static long Most(Func<int, long> round, int most, int own) => round(Math.Min(own, most));
}
