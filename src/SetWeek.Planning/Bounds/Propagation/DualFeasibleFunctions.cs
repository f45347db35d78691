namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Dual feasible functions for a capacity W: if lengths sum to at most W, then so do their function values. Two families of
/// Fekete and Schepers ("New classes of fast lower bounds for bin packing problems", 2001, from memory). The first rounds
/// lengths above W - e up to W and lengths below e down to 0. The second rounds lengths to multiples of W/k, here for k = 1 and
/// k = 2, each in a slightly weaker form whose values are whole numbers.
/// </summary>
internal static class DualFeasibleFunctions
{
    public static IEnumerable<Func<int, long>> ForLengths(int capacity, IEnumerable<int> lengths)
    {
        if (capacity <= 0) yield break;
        foreach (var threshold in lengths.Where(length => length > 0 && 2 * length <= capacity).Distinct().Order())
            yield return length => length > capacity - threshold ? capacity : length < threshold ? 0 : length;
        // k = 1: two lengths above half the capacity do not fit together.
        yield return length => 2 * length > capacity ? capacity : 2 * length == capacity ? capacity / 2 : 0;
        // k = 2: three lengths above a third of the capacity do not fit together.
        yield return length => 3 * length > 2 * capacity ? capacity : 3 * length > capacity ? capacity / 2 : 0;
    }

    /// <summary>
    /// Largest sum of function values over lengths that together fit into a person's own minutes. The functions are
    /// superadditive and non-decreasing, so one length of all these minutes attains it.
    /// </summary>
    public static long MaxTotal(Func<int, long> function, int capacity, int ownMinutes) =>
        function(Math.Min(ownMinutes, capacity));
}
