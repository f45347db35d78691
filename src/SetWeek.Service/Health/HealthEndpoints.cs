using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Health;

/// <summary>
/// Health checks for an orchestrator: live while the process runs, ready while it can serve requests. They need no token.
/// </summary>
public static class HealthEndpoints
{
    public const string Live = "/health/live", Ready = "/health/ready";

    public sealed record HealthStatus(string Status);

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.Open(Described(Live, "readLive", "Answers while the process runs", "The process runs"),
            _ => Task.FromResult(Answer.Ok(new HealthStatus("live"))));
        routes.Open(Described(Ready, "readReady", "Answers whether the service can serve requests", "It can"), IsReady);
    }

    private static Operation Described(string path, string id, string summary, string meaning) => new("GET", path, id, summary)
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = "Health",
        Replies = [new(200, meaning, typeof(HealthStatus))],
    };

    private static async Task<Answer> IsReady(HttpContext http)
    {
        if (http.RequestServices.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping.IsCancellationRequested)
            return Refused.With(503, "The service is stopping.");
        return await http.RequestServices.GetRequiredService<WriteProbe>().Fault(http.RequestAborted) is { } fault
            ? Refused.With(503, fault) : Answer.Ok(new HealthStatus("ready"));
    }
}
