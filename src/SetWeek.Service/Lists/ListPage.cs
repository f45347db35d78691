using System.Buffers.Text;
using System.Text;
using OneOf;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Lists;

/// <summary>The page of a list that a request asks for.</summary>
/// <param name="After">The key of the last entry of the page before; empty for the first page.</param>
/// <param name="Limit">Most entries.</param>
public sealed record ListPage(string After, int Limit)
{
    private const int MaxLimit = 200, DefaultLimit = 50;

    /// <summary>The prefix lets the content of a cursor change.</summary>
    private const string Version = "1.";

    /// <summary>How many entries to read: one more than the page has tells whether another page follows.</summary>
    public int ReadLimit => Limit + 1;

    public static IReadOnlyList<QueryParameter> Query { get; } =
    [
        new("after", "The cursor of the page before; follow its Link with rel=next", Cursor("harbour-street")),
        PageLimit.Query("Entries", DefaultLimit, MaxLimit),
    ];

    public static OneOf<ListPage, Answer> Of(Request request)
    {
        if ((request.Query("after") is { Length: > 0 } after ? Key(after) : "") is not { } key)
            return Refused.With(400, "This is not a valid cursor. Follow the Link of the page before.", "no-cursor");
        return PageLimit.Of(request, DefaultLimit, MaxLimit).MapT0(limit => new ListPage(key, limit));
    }

    /// <summary>The entries of the page, and the key after which the next page begins; null if there is none.</summary>
    /// <param name="read">The entries from the first of the page on, at most <see cref="ReadLimit"/>.</param>
    public (IReadOnlyList<T> Entries, string? Last) Cut<T>(IReadOnlyList<T> read, Func<T, string> key) =>
        read.Count <= Limit ? (read, null) : ([.. read.Take(Limit)], key(read[Limit - 1]));

    /// <summary>The answer with a page.</summary>
    /// <param name="path">The address of the list.</param>
    /// <param name="last">The key after which the next page begins; null if there is none.</param>
    /// <param name="filters">The filters of the request, which the next page has too.</param>
    public Answer Answer<T>(string path, T view, string? last, params IReadOnlyList<(string Name, string? Value)> filters)
    {
        var answer = Http.Answers.Answer.Ok(view);
        return last is null ? answer : answer with { Link = $"<{Next(path, last, filters)}>; rel=\"next\"" };
    }

    /// <summary>The address of the next page.</summary>
    /// <param name="last">The key after which it begins.</param>
    public string Next(string path, string last, params IReadOnlyList<(string Name, string? Value)> filters) =>
        $"{path}?after={Cursor(last)}&limit={Limit}" + string.Concat(filters.Where(filter => filter.Value is not null)
            .Select(filter => $"&{filter.Name}={Uri.EscapeDataString(filter.Value!)}"));

    private static string Cursor(string key) => Base64Url.EncodeToString(Encoding.UTF8.GetBytes(Version + key));

    private static string? Key(string cursor)
    {
        if (cursor.Length > 500 || !Base64Url.IsValid(cursor)) return null;
        var text = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(cursor));
        return text.StartsWith(Version, StringComparison.Ordinal) && !text.Contains('\0') && !text.Contains('\uFFFD')
            ? text[Version.Length..] : null;
    }
}
