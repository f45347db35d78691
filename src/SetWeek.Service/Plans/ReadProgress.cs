using System.Runtime.CompilerServices;
using Marten;
using Npgsql;
using OneOf;
using SetWeek.Domain.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Json;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Plans;

public sealed class ReadProgress : IStream
{
    private static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(500);

    /// <param name="Sentence">How far the search is, to read out.</param>
    /// <param name="Goals">The goals of the best plan so far, in their order of weight; empty until one is found.</param>
    public sealed record View(CandidateState State, string Sentence, IReadOnlyList<ProgressSentences.Row> Goals);

    private sealed record Found(CandidateState State, BestSoFar? Best);

    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/progress", "readProgress",
        "Tells how far the search for a plan is, as server-sent events")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "\"progress\" has the best plan so far and its bounds, each time that they change; the last event is "
                + "\"settled\", with the state in which the plan then is", typeof(string), EventStream.ContentType),
        ],
    };

    public static async Task<OneOf<IAsyncEnumerable<StreamEvent>, Answer>> Open(Request request, IServiceProvider services)
    {
        var store = services.GetRequiredService<IDocumentStore>();
        await using var session = store.QuerySession(request.Caller.Tenant);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await Read(session, request) is not { } first) return Refused.Missing("plan", request["plan"]);
        return OneOf<IAsyncEnumerable<StreamEvent>, Answer>.FromT0(
            Events(store, services.GetRequiredService<TimeProvider>(), request, week.Week, first));
    }

    /// <summary>Asks the database: the search may run on any node.</summary>
    private static async IAsyncEnumerable<StreamEvent> Events(IDocumentStore store, TimeProvider clock, Request request,
        Week week, Found? found, [EnumeratorCancellation] CancellationToken closed = default)
    {
        var words = new ProgressSentences(week);
        var told = "";
        while (found is not null)
        {
            var isSettled = found.State is not (CandidateState.Queued or CandidateState.Solving);
            var data = JsonFormat.Bytes(new View(found.State,
                ProgressSentences.Of(found.State, found.Best?.AfterMilliseconds, found.Best is { IsEnding: true }),
                words.Rows(found.Best?.Goals ?? [], request.Caller.MaySeeParticulars)));
            var text = System.Text.Encoding.UTF8.GetString(data);
            if (isSettled || text != told) yield return StreamEvent.Named(isSettled ? "settled" : "progress", data);
            if (isSettled) yield break;
            told = text;
            await Task.Delay(Interval, clock, closed);
            await using var session = store.QuerySession(request.Caller.Tenant);
            found = await Read(session, request);
        }
    }

    /// <summary>A candidate contains whole plans, so only its state is read.</summary>
    private static async Task<Found?> Read(IQuerySession session, Request request)
    {
        await using var read = new NpgsqlCommand("""
            select plan.data ->> 'state', search.best::text, search.ending is true from setweek.mt_doc_candidateplan as plan
            left join setweek.solve_requests as search on search.tenant_id = plan.tenant_id and search.plan = plan.id
            where plan.tenant_id = @tenant and plan.week = @week and plan.id = @plan
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("week", request.Id);
        read.Parameters.AddWithValue("plan", request["plan"]);
        await using var row = await session.ExecuteReaderAsync(read, request.Cancelled);
        if (!await row.ReadAsync(request.Cancelled)) return null;
        return new Found(Enum.Parse<CandidateState>(row.GetString(0), ignoreCase: true), row.IsDBNull(1) ? null
            : BestSoFar.Read(row.GetString(1), row.GetBoolean(2)));
    }
}
