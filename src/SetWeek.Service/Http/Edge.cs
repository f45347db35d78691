using JasperFx;
using JasperFx.Events;
using Marten;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;
using Wolverine.Marten;

namespace SetWeek.Service.Http;

/// <summary>
/// Runs a slice: one session, one transaction, one answer. The answer is complete before the commit, so that the record
/// which makes a repeat safe is committed with the change that it answers for.
/// </summary>
public static class Edge
{
    /// <summary>
    /// A report from the floor is a fact and never fails on a version: it is tried again on what stands then. Those that lost a
    /// race twice take turns, so that a crew that reports all at once is through after as many commits as there are reports.
    /// </summary>
    private const int MaxAttempts = 40, AttemptsWithoutLock = 2;

    public static RouteHandlerBuilder Command<T>(this IEndpointRouteBuilder routes) where T : ICommand =>
        routes.Slice<T>((HttpContext http) => RunCommand<T>(http));

    public static RouteHandlerBuilder Query<T>(this IEndpointRouteBuilder routes) where T : IQuery =>
        routes.Slice<T>((HttpContext http) => RunQuery<T>(http));

    private static RouteHandlerBuilder Slice<T>(this IEndpointRouteBuilder routes, Func<HttpContext, Task> run)
        where T : ISlice =>
        routes.MapMethods(T.Operation.Path, [T.Operation.Method], run)
            .WithMetadata(T.Operation with { Tag = typeof(T).Namespace!.Split('.')[^1] })
            .WithDisplayName(T.Operation.Id).RequireAuthorization();

    private static async Task RunQuery<T>(HttpContext http) where T : IQuery
    {
        var read = await RequestReader.Read(http, T.Operation, Clock(http));
        await (await read.Match(async request =>
        {
            await using var session = Store(http).QuerySession(request.Caller.Tenant);
            if (await CheckStore(session, request, T.Operation.MayUse) is { } refusal) return refusal;
            var answer = await T.Handle(request, session);
            return answer is { Status: 200, ETag: not null } && answer.ETag == http.Request.Headers.IfNoneMatch
                ? answer with { Status = 304 } : answer;
        }, Task.FromResult)).Send(http);
    }

    private static async Task RunCommand<T>(HttpContext http) where T : ICommand
    {
        var read = await RequestReader.Read(http, T.Operation, Clock(http));
        var key = IdempotencyKey.Of(http);
        var answer = await read.Match(
            request => key.Match(given => RunCommand<T>(http, request, given), Task.FromResult), Task.FromResult);
        await answer.Send(http);
    }

    private static async Task<Answer> RunCommand<T>(HttpContext http, Request request, IdempotencyKey? key) where T : ICommand
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await RunOnce<T>(http, request, key, locked: attempt > AttemptsWithoutLock);
            }
            catch (Exception wrong) when (IsConflict(wrong))
            {
                if (T.Operation.IfMatch) return Refused.Stale(null);
                if (attempt == MaxAttempts)
                    return Refused.With(503, "Too many others are changing this at the moment; try again.");
            }
        }
    }

    private static async Task<Answer> RunOnce<T>(HttpContext http, Request request, IdempotencyKey? key, bool locked)
        where T : ICommand
    {
        await using var session = Store(http).LightweightSession(request.Caller.Tenant);
        session.LastModifiedBy = request.Caller.Person;
        session.CorrelationId = http.TraceIdentifier;
        session.CausationId = $"{T.Operation.Id} {key?.Key}".TrimEnd();
        session.HappenedAt(request.Now);
        if (await CheckStore(session, request, T.Operation.MayUse) is { } refusal) return refusal;
        if (key is not null || locked) await session.BeginTransactionAsync(request.Cancelled);
        if (locked) await LockSubject(session, request);
        if (key is not null && await IdempotencyRecords.Claim(session, request, key) is { } earlier) return earlier;

        var answer = await T.Handle(request, session);
        if (answer.IsRefusal) return answer;
        if (key is not null) IdempotencyRecords.Complete(session, request, key, answer);
        await using var scope = http.RequestServices.CreateAsyncScope();
        if (answer.Messages.Count > 0)
        {
            var outbox = scope.ServiceProvider.GetRequiredService<IMartenOutbox>();
            outbox.TenantId = request.Caller.Tenant;
            outbox.Enroll(session);
            foreach (var message in answer.Messages) await outbox.PublishAsync(message);
        }
        // Past this point a caller that hangs up changes nothing: half a commit cannot be.
        await session.SaveChangesAsync(CancellationToken.None);
        return answer;
    }

    /// <summary>
    /// Somebody else has committed what this would have changed; of several documents, one exception says it for each.
    /// </summary>
    private static bool IsConflict(Exception wrong) => wrong switch
    {
        ConcurrencyException or ExistingStreamIdCollisionException or Marten.Exceptions.ExistingStreamIdCollisionException =>
            true,
        AggregateException several => several.InnerExceptions.Any(IsConflict),
        _ => false,
    };

    /// <summary>Until the commit, whoever else takes a turn at this address waits.</summary>
    private static async Task LockSubject(IDocumentSession session, Request request)
    {
        await using var turn = new NpgsqlCommand("select pg_advisory_xact_lock(hashtextextended(@subject, 0))");
        turn.Parameters.AddWithValue("subject", $"setweek.turn.{request.Caller.Tenant}/{request.Subject}");
        await session.ExecuteAsync(turn, request.Cancelled);
    }

    private static async Task<Answer?> CheckStore(IQuerySession session, Request request, Permission permission) =>
        permission.Scope != AccessScope.Week ? null
        : await session.LoadAsync<WeekPlace>(request.Id, request.Cancelled) is not { } week ? Refused.Missing("week", request.Id)
        : request.Caller.MayAccess(week.Store) ? null : Refused.OtherStore(week.Store);

    private static IDocumentStore Store(HttpContext http) => http.RequestServices.GetRequiredService<IDocumentStore>();

    private static TimeProvider Clock(HttpContext http) => http.RequestServices.GetRequiredService<TimeProvider>();
}
