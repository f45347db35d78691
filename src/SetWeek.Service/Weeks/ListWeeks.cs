using Marten;
using NodaTime;
using NodaTime.Text;
using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Weeks;

public sealed class ListWeeks : IQuery
{
    public sealed record View(IReadOnlyList<WeekView> Weeks);

    public sealed record WeekView(
        string Id, string Store, string Direction, LocalDateTime Launch, WeekStage Stage, string? PublishedPlan, int WaitingKits,
        int Blocks);

    private sealed record Filter(LocalDate? From, LocalDate? To, WeekStage? Stage)
    {
        public bool Accepts(WeekSummary week) =>
            (From is null || week.Launch.Date >= From) && (To is null || week.Launch.Date <= To)
            && (Stage is null || week.Stage == Stage);
    }

    private static readonly IReadOnlyDictionary<string, WeekStage> Stages =
        Enum.GetValues<WeekStage>().ToDictionary(stage => stage.ToString().ToLowerInvariant());

    public static Operation Operation => new("GET", "/weeks", "listWeeks",
        "Lists the weeks of the stores that the caller reaches")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Query =
        [
            WeekScan.StoreFilter, WeekScan.RegionFilter,
            new("launchFrom", "Only weeks that launch on this date or later, store-local", "2027-03-01"),
            new("launchTo", "Only weeks that launch on this date or earlier, store-local", "2027-03-31"),
            new("stage", "Only unplanned, published, begun or done weeks", "begun"),
            .. ListPage.Query,
        ],
        Replies =
        [
            new(200, "The weeks in the order of their ids; follow the Link with rel=next, also after a short page", typeof(View))
            {
                HasLink = true,
            },
        ],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(
        page => FilterOf(request).Match(async filter =>
        {
            var (weeks, last) = await WeekScan.Page(request, session, page,
                week => filter.Accepts(week) ? [(week.Id, Of(week))] : Array.Empty<(string, WeekView)>());
            return page.Answer("/weeks", new View(weeks), last,
                [.. ((string[])["store", "region", "launchFrom", "launchTo", "stage"])
                    .Select(name => (name, request.Query(name)))]);
        }, Task.FromResult), Task.FromResult);

    private static WeekView Of(WeekSummary week) => new(week.Id, week.Store, week.Direction, week.Launch, week.Stage,
        week.PublishedPlan, week.Waiting.Count, week.Blocks.Count);

    private static OneOf<Filter, Answer> FilterOf(Request request)
    {
        if (!TryDate(request, "launchFrom", out var from)) return NoDate("launchFrom");
        if (!TryDate(request, "launchTo", out var to)) return NoDate("launchTo");
        if (request.Query("stage") is not { } asked) return new Filter(from, to, null);
        return Stages.TryGetValue(asked, out var stage) ? new Filter(from, to, stage)
            : Refused.With(400, $"The stage must be one of {string.Join(", ", Stages.Keys)}.", "no-stage");
    }

    private static bool TryDate(Request request, string name, out LocalDate? date)
    {
        date = null;
        if (request.Query(name) is not { } text) return true;
        var parsed = LocalDatePattern.Iso.Parse(text);
        date = parsed.Success ? parsed.Value : null;
        return parsed.Success;
    }

    private static Answer NoDate(string name) =>
        Refused.With(400, $"{name} must be a date such as 2027-03-31.", "no-date");
}
