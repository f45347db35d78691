using Marten;
using Microsoft.Net.Http.Headers;
using Npgsql;
using OneOf;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Storage;
using Wolverine.Marten;

namespace SetWeek.Service.Http;

/// <summary>
/// Runs a slice with one session and one transaction. The answer is complete before the commit, so that the idempotency record
/// is committed together with the change.
/// </summary>
public static class Edge
{
    /// <summary>
    /// A command is run again after a concurrency conflict. If it carries an If-Match, its next run compares the versions. After
    /// two optimistic attempts it takes a lock on its subject. So n concurrent commands need about n commits.
    /// </summary>
    private const int MaxAttempts = 40, AttemptsWithoutLock = 2;

    public static RouteHandlerBuilder Command<T>(this IEndpointRouteBuilder routes) where T : ICommand =>
        routes.Slice<T>((HttpContext http) => RunCommand<T>(http));

    public static RouteHandlerBuilder Query<T>(this IEndpointRouteBuilder routes) where T : IQuery =>
        routes.Slice<T>((HttpContext http) => RunQuery<T>(http));

    public static RouteHandlerBuilder Report<T>(this IEndpointRouteBuilder routes) where T : IReport =>
        routes.Slice<T>((HttpContext http) => RunReports(http, T.Operation, request => request.Read(json => T.Read(json, request))
            .Match(report => report.MapT0(read => ReportBatch.Of(
                read with { AsksAbout = read.AsksAbout ?? request.TextOf(FloorReport.CorrectsField) })),
                faults => Refused.For(faults))));

    public static RouteHandlerBuilder Reports<T>(this IEndpointRouteBuilder routes) where T : IReports =>
        routes.Slice<T>((HttpContext http) => RunReports(http, T.Operation, T.Read));

    public static RouteHandlerBuilder Stream<T>(this IEndpointRouteBuilder routes) where T : IStream =>
        routes.Slice<T>((HttpContext http) => RunStream<T>(http));

    private static RouteHandlerBuilder Slice<T>(this IEndpointRouteBuilder routes, Func<HttpContext, Task> run)
        where T : ISlice =>
        routes.MapMethods(T.Operation.Path, MethodsOf(T.Operation), run).WithMetadata(T.Operation with
        {
            Tag = typeof(T).Namespace!.Split('.')[^1],
            IsCommand = !typeof(T).IsAssignableTo(typeof(IQuery)) && !typeof(T).IsAssignableTo(typeof(IStream)),
        }).WithDisplayName(T.Operation.Id).RequireAuthorization();

    /// <summary>Maps an operation that needs no token, and neither tenant nor session.</summary>
    public static void Open(this IEndpointRouteBuilder routes, Operation operation, Func<HttpContext, Task<Answer>> run) =>
        routes.MapMethods(operation.Path, MethodsOf(operation), async (HttpContext http) => await http.Reply(await run(http)))
            .WithMetadata(operation).WithDisplayName(operation.Id).AllowAnonymous();

    /// <summary>
    /// Maps an operation that reads or writes cookies, and so gets the HTTP request itself. It passes every check.
    /// </summary>
    public static void Direct(this IEndpointRouteBuilder routes, Operation operation,
        Func<HttpContext, Request, Task<Answer>> run) =>
        routes.MapMethods(operation.Path, MethodsOf(operation), (HttpContext http) => RunDirect(http, operation, run))
            .WithMetadata(operation).WithDisplayName(operation.Id).RequireAuthorization();

    /// <summary>Whatever answers GET answers HEAD too (RFC 9110, section 9.3.2).</summary>
    private static string[] MethodsOf(Operation operation) =>
        operation.Method == HttpMethods.Get ? [HttpMethods.Get, HttpMethods.Head] : [operation.Method];

    private static async Task RunQuery<T>(HttpContext http) where T : IQuery
    {
        var read = await RequestReader.Read(http, T.Operation);
        var answer = await read.Match(async request =>
        {
            await using var session = Store(http).QuerySession(request.Caller.Tenant);
            if (await CheckStore(session, request, T.Operation.MayUse) is { } refusal) return refusal;
            var answer = await T.Handle(request, session);
            return answer is { Status: 200, ETag: { } tag } && IsKnown(tag, http.Request.GetTypedHeaders().IfNoneMatch)
                ? answer with { Status = 304 } : ParticularsRemoval.For(request.Caller, answer);
        }, Task.FromResult);
        await (answer.Events is { } events ? EventStream.Send(http, events) : http.Reply(answer));
    }

    private static async Task RunDirect(HttpContext http, Operation operation, Func<HttpContext, Request, Task<Answer>> run)
    {
        var read = await RequestReader.Read(http, operation);
        await http.Reply(await read.Match(request => run(http, request), Task.FromResult));
    }

    private static async Task RunStream<T>(HttpContext http) where T : IStream
    {
        var read = await RequestReader.Read(http, T.Operation);
        var opened = await read.Match(async request =>
        {
            await using (var session = Store(http).QuerySession(request.Caller.Tenant))
                if (await CheckStore(session, request, T.Operation.MayUse) is { } refusal)
                    return OneOf<IAsyncEnumerable<StreamEvent>, Answer>.FromT1(refusal);
            return await T.Open(request, http.RequestServices);
        }, answer => Task.FromResult(OneOf<IAsyncEnumerable<StreamEvent>, Answer>.FromT1(answer)));
        await opened.Match(events => EventStream.Send(http, events), http.Reply);
    }

    /// <summary>The comparison of If-None-Match is weak (RFC 9110, section 13.1.2).</summary>
    private static bool IsKnown(string tag, IList<EntityTagHeaderValue> known) =>
        known.Any(entry => entry.Equals(EntityTagHeaderValue.Any)
            || entry.Compare(EntityTagHeaderValue.Parse(tag), useStrongComparison: false));

    private static async Task RunCommand<T>(HttpContext http) where T : ICommand
    {
        var read = await RequestReader.Read(http, T.Operation);
        var key = IdempotencyKey.Of(http);
        var answer = await read.Match(
            request => key.Match(async given => ParticularsRemoval.For(request.Caller,
                (request.Photo is null ? null : await KeepPhoto(http, request, T.Operation.MayUse))
                    ?? await RunAdmitted<T>(http, request, given)),
                Task.FromResult), Task.FromResult);
        await http.Reply(answer);
    }

    /// <summary>
    /// Checks the store, and keeps the photograph if there is one. That is before the command or the reports run, because they
    /// may run more than once.
    /// </summary>
    private static async Task<Answer?> KeepPhoto(HttpContext http, Request request, Permission permission)
    {
        await using var session = Store(http).LightweightSession(request.Caller.Tenant);
        return await CheckStore(session, request, permission)
            ?? (request.Photo is { } photo ? await PhotoIntake.Keep(session, request, photo) : null);
    }

    /// <summary>
    /// A command that computes for long waits for its place before it has a session, so that no connection waits.
    /// </summary>
    private static async Task<Answer> RunAdmitted<T>(HttpContext http, Request request, IdempotencyKey? key) where T : ICommand =>
        !T.Operation.NeedsAdmission ? await RunUntilCommitted<T>(http, request, key)
            : (await request.Admission.Admit(
                request.Caller.Tenant, () => RunUntilCommitted<T>(http, request, key), request.Cancelled))
                .Match(answer => answer, busy => busy);

    private static async Task<Answer> RunUntilCommitted<T>(HttpContext http, Request request, IdempotencyKey? key)
        where T : ICommand
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await RunOnce<T>(http, request, key, locked: attempt > AttemptsWithoutLock);
            }
            catch (Exception error) when (DatabaseErrors.IsConflict(error))
            {
                if (attempt == MaxAttempts)
                    return Refused.With(503, "Too many other requests are changing the same data at the moment. Try again.");
            }
        }
    }

    private static async Task RunReports(
        HttpContext http, Operation operation, Func<Request, OneOf<ReportBatch, Answer>> batch)
    {
        var read = await RequestReader.Read(http, operation);
        var key = IdempotencyKey.Of(http);
        var answer = await read.Match(request => key.Match(async given =>
        {
            if (await KeepPhoto(http, request, operation.MayUse) is { } refusal) return refusal;
            return await batch(request).Match(
                reports => http.RequestServices.GetRequiredService<ReportDesk>().Take(
                    new Submission(request, operation.Id, http.TraceIdentifier, given, reports)),
                Task.FromResult);
        }, Task.FromResult), Task.FromResult);
        await http.Reply(answer);
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
        // Before an earlier answer is given again: the token may reach less than it did then.
        if (T.Operation.StoreField is { } field && request.TextOf(field) is { } store && !request.Caller.MayAccess(store))
            return Refused.OtherStore(store);
        if (key is not null || locked) await session.BeginTransactionAsync(request.Cancelled);
        if (locked) await LockSubject(session, request);
        if (key is not null && await IdempotencyRecords.Claim(session, request, key) is { } earlier) return earlier;

        var answer = await T.Handle(request, session);
        if (answer.IsRefusal) return answer;
        if (key is not null) IdempotencyRecords.Settle(session, request, key, answer);
        await using var scope = http.RequestServices.CreateAsyncScope();
        if (answer.Messages.Count > 0)
        {
            var outbox = scope.ServiceProvider.GetRequiredService<IMartenOutbox>();
            outbox.TenantId = request.Caller.Tenant;
            outbox.Enroll(session);
            foreach (var message in answer.Messages) await outbox.PublishAsync(message);
        }
        // From here on a caller that disconnects must not interrupt the commit.
        await session.SaveChangesAsync(CancellationToken.None);
        return answer;
    }

    /// <summary>Takes an advisory lock on the {id} of the route until the commit; other requests for the lock wait.</summary>
    private static async Task LockSubject(IDocumentSession session, Request request)
    {
        await using var takeLock = new NpgsqlCommand("select pg_advisory_xact_lock(hashtextextended(@subject, 0))");
        takeLock.Parameters.AddWithValue("subject", $"setweek.turn.{request.Caller.Tenant}/{request.Subject}");
        await session.ExecuteAsync(takeLock, request.Cancelled);
    }

    /// <summary>
    /// A week of a store that the caller has no access to is answered like one that does not exist, so that nobody learns of it.
    /// </summary>
    private static async Task<Answer?> CheckStore(IQuerySession session, Request request, Permission permission) =>
        permission.Scope != AccessScope.Week
            || await session.StoreOf(request.Id, request.Cancelled) is { } store && request.Caller.MayAccess(store)
            ? null : Refused.Missing("week", request.Id);

    private static IDocumentStore Store(HttpContext http) => http.RequestServices.GetRequiredService<IDocumentStore>();
}
