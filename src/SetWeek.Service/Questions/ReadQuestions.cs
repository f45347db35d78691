using System.Buffers.Text;
using System.Globalization;
using System.Text;
using Marten;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Questions;

public sealed class ReadQuestions : IQuery
{
    private const int MaxLimit = 200, DefaultLimit = 50;
    private const string Open = "open", Answered = "answered";

    public sealed record View(IReadOnlyList<QuestionView> Questions);

    public static Operation Operation =>
        new("GET", "/questions", "readQuestions", "Reads the questions of the chain, in the order in which they were asked")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Lead),
            Query =
            [
                new("for", "Only those for lead or headOffice", "headOffice"),
                new("state", "Only open or answered ones", Open),
                new("direction", "Only weeks of this direction", "first-rain"),
                new("store", "Only weeks of this store", "harbour-street"),
                new("after", "The cursor of the page before, from its Link", Cursor("")),
                new("limit", $"Questions on a page, 1 to {MaxLimit}", DefaultLimit.ToString(CultureInfo.InvariantCulture)),
            ],
            Replies = [new(200, "The questions of the stores that the caller reaches; follow the Link with rel=next", typeof(View))],
        };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        Addressee? addressee = null;
        if (request.Query("for") is { } asked)
        {
            addressee = asked switch { "lead" => Addressee.Lead, "headOffice" => Addressee.HeadOffice, _ => null };
            if (addressee is null) return Refused.With(400, "for must be lead or headOffice.", "no-addressee");
        }
        if (request.Query("state") is { } state and not (Open or Answered))
            return Refused.With(400, $"state must be {Open} or {Answered}.", "no-state");
        if (!int.TryParse(request.Query("limit") ?? $"{DefaultLimit}", NumberStyles.None, CultureInfo.InvariantCulture,
            out var limit) || limit is < 1 or > MaxLimit)
            return Refused.With(400, $"The limit must be a whole number from 1 to {MaxLimit}.", "no-limit");
        if (KeyOf(request.Query("after") ?? "") is not { } after)
            return Refused.With(400, "This is not a valid cursor. Follow the Link of the previous page.", "no-cursor");

        var filter = new StoredQuestion.Filter(request.Query("direction"), request.Query("store"), addressee,
            request.Query("state") is { } wanted ? wanted == Answered : null, ToAll: null,
            request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores);
        var page = await StoredQuestion.Read(session, filter, after, limit + 1, request.Cancelled);
        var shown = await QuestionView.Of(session, [.. page.Take(limit).Select(row => row.Question)], request.Cancelled);
        var answer = Answer.Ok(new View(shown));
        return page.Count <= limit ? answer : answer with { Link = $"<{Next(request, page[limit - 1].Key, limit)}>; rel=\"next\"" };
    }

    private static string Next(Request request, string key, int limit) => string.Concat(
        new[] { "for", "state", "direction", "store" }.Where(name => request.Query(name) is not null)
            .Select(name => $"&{name}={Uri.EscapeDataString(request.Query(name)!)}")
            .Prepend($"/questions?after={Cursor(key)}&limit={limit}"));

    private static string Cursor(string key) => Base64Url.EncodeToString(Encoding.UTF8.GetBytes(key));

    /// <returns>Null if the text is not a cursor.</returns>
    private static string? KeyOf(string cursor)
    {
        if (cursor.Length > 600 || !Base64Url.IsValid(cursor)) return null;
        var key = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(cursor));
        return key.All(character => character is >= ' ' and <= '~') ? key : null;
    }
}
