using Marten;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Health;

/// <summary>
/// Health checks for an orchestrator: live while the process runs, ready while it can serve requests. They need no token.
/// </summary>
public static class HealthEndpoints
{
    public const string Live = "/health/live", Ready = "/health/ready";
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(2);

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet(Live, (HttpContext http) => Answer.Ok(new { status = "live" }).Send(http)).AllowAnonymous();
        routes.MapGet(Ready, async (HttpContext http) => await (await IsReady(http)).Send(http)).AllowAnonymous();
    }

    private static async Task<Answer> IsReady(HttpContext http)
    {
        if (http.RequestServices.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping.IsCancellationRequested)
            return Refused.With(503, "The service is stopping.");
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted);
        limit.CancelAfter(Timeout);
        try
        {
            await using var session = http.RequestServices.GetRequiredService<IDocumentStore>().QuerySession("health");
            await session.QueryAsync<long>("select count(*) from (select from setweek.feed limit 1) as one", limit.Token);
            return Answer.Ok(new { status = "ready" });
        }
        catch (Exception error)
            when (error is Npgsql.NpgsqlException or OperationCanceledException or Marten.Exceptions.MartenCommandException)
        {
            return Refused.With(503, "The database does not respond.");
        }
    }
}
