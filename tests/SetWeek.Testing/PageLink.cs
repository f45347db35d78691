namespace SetWeek.Testing;

/// <summary>The Link header of a page of a list or of the feed.</summary>
public static class PageLink
{
    /// <summary>The address of the next page.</summary>
    public static string NextOf(string header) => header[1..header.IndexOf('>', StringComparison.Ordinal)];
}
