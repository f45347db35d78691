namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Dual feasible functions over lengths up to W: what they make of lengths that fit into W together sums to W at most.
/// The two families of Fekete and Schepers ("New classes of fast lower bounds for bin packing problems", 2001, from memory):
/// above W - e counts whole and below e not at all; and multiples of W/k rounded.
/// </summary>
internal static class DualFeasibleFunctions
{
    public static IEnumerable<Func<int, long>> ForLengths(int capacity, IEnumerable<int> lengths)
    {
        if (capacity <= 0) yield break;
        foreach (var small in lengths.Where(length => length > 0 && 2 * length <= capacity).Distinct().Order())
            yield return length => length > capacity - small ? capacity : length < small ? 0 : length;
        // More than half: no two of them fit into one night's work of one person.
        yield return length => 2 * length > capacity ? capacity : 2 * length == capacity ? capacity / 2 : 0;
        // Scaled so that it stays whole: thirds.
        yield return length => 3 * length > 2 * capacity ? capacity : 3 * length > capacity ? capacity / 2 : 0;
    }

    /// <summary>
    /// Most that lengths which fit into a person's own minutes can come to: the functions grow faster than sums do.
    /// </summary>
    public static long MaxTotal(Func<int, long> function, int capacity, int ownMinutes) => function(Math.Min(ownMinutes, capacity));
}
