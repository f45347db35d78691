using Marten;
using NodaTime;
using NodaTime.Text;
using Npgsql;
using SetWeek.Domain.Plans;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class ListPlans : IQuery
{
    public sealed record View(IReadOnlyList<PlanView> Plans);

    /// <param name="Address">Where the plan is read.</param>
    public sealed record PlanView(
        string Id, string Address, CandidateState State, bool Published, Instant Asked, LocalDateTime Now);

    private sealed record Row(string Id, CandidateState State, string Asked, string Now, string InputHash);

    public static Operation Operation => new("GET", "/weeks/{id}/plans", "listPlans", "Lists the requested plans of a week")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query = ListPage.Query,
        Replies = [new(200, "The plans, the latest first; follow the Link with rel=next", typeof(View)) { HasLink = true }],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var (rows, last) = page.Cut(await Rows(request, session, page), row => row.Id);
        // Only a ready plan can be overtaken.
        var hash = rows.Any(row => row.State == CandidateState.Ready) ? await session.InputHash(stream, request.Cancelled) : "";
        var plans = rows.Select(row =>
        {
            var published = week.Published?.PlanId == row.Id;
            var overtaken = row.State == CandidateState.Ready && !published && row.InputHash != hash;
            return new PlanView(row.Id, PlanAnswer.AddressOf(week.Id, row.Id), overtaken ? CandidateState.Overtaken : row.State,
                published, InstantPattern.ExtendedIso.Parse(row.Asked).Value,
                LocalDateTimePattern.ExtendedIso.Parse(row.Now.Length == 16 ? $"{row.Now}:00" : row.Now).Value);
        });
        return page.Answer($"/weeks/{week.Id}/plans", new View([.. plans]), last);
    }, Task.FromResult);

    /// <summary>A candidate contains whole plans, so only these fields are read.</summary>
    private static async Task<IReadOnlyList<Row>> Rows(Request request, IQuerySession session, ListPage page)
    {
        await using var read = new NpgsqlCommand("""
            select id, data ->> 'state', data ->> 'asked', data ->> 'now', data ->> 'inputHash' from setweek.mt_doc_candidateplan
            where tenant_id = @tenant and week = @week and (@after = '' or id < @after)
            order by id desc limit @limit
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("week", request.Id);
        read.Parameters.AddWithValue("after", page.After);
        read.Parameters.AddWithValue("limit", page.ReadLimit);
        await using var found = await session.ExecuteReaderAsync(read, request.Cancelled);
        var rows = new List<Row>();
        while (await found.ReadAsync(request.Cancelled))
            rows.Add(new Row(found.GetString(0), Enum.Parse<CandidateState>(found.GetString(1), ignoreCase: true),
                found.GetString(2), found.GetString(3), found.GetString(4)));
        return rows;
    }
}
