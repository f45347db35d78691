using System.Globalization;
using OneOf;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Requests;

/// <summary>The parameter "limit" of an operation that answers page by page.</summary>
public static class PageLimit
{
    private const string Name = "limit";

    /// <param name="entries">What is on a page.</param>
    public static QueryParameter Query(string entries, int usual, int most) =>
        new(Name, $"{entries} on a page, 1 to {most}", usual.ToString(CultureInfo.InvariantCulture), typeof(int));

    /// <param name="usual">The limit unless one is given.</param>
    public static OneOf<int, Answer> Of(Request request, int usual, int most) =>
        request.Query(Name) is not { } given ? usual
        : int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out var limit) && limit >= 1 && limit <= most
            ? limit
        : Refused.With(400, $"The limit must be a whole number from 1 to {most}.", "no-limit");
}
