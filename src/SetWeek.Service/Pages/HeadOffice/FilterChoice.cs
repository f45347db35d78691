namespace SetWeek.Service.Pages.HeadOffice;

/// <summary>A value that a filter of a page offers.</summary>
public sealed record FilterChoice(string Id, string Name, bool IsChosen)
{
    /// <param name="names">The values, by id.</param>
    /// <param name="chosen">The id of the chosen one; null if none is.</param>
    public static IReadOnlyList<FilterChoice> Of(IReadOnlyDictionary<string, string> names, string? chosen) =>
        [.. names.Select(name => new FilterChoice(name.Key, name.Value, name.Key == chosen))];
}
