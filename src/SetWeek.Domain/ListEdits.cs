namespace SetWeek.Domain;

/// <summary>Changes of a list whose items have ids.</summary>
internal static class ListEdits
{
    /// <summary>The list with the item in the place of the one with the same id, or at the end.</summary>
    public static IReadOnlyList<T> Put<T>(IReadOnlyList<T> list, T item, Func<T, string> id) =>
        list.Any(other => id(other) == id(item)) ? [.. list.Select(other => id(other) == id(item) ? item : other)]
            : [.. list, item];

    public static IReadOnlyList<T> Drop<T>(IReadOnlyList<T> list, string dropped, Func<T, string> id) =>
        [.. list.Where(item => id(item) != dropped)];
}
