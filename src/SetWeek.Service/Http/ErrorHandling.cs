using System.Diagnostics;
using Microsoft.AspNetCore.Diagnostics;
using Npgsql;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http;

/// <summary>
/// What the framework refuses, and what goes wrong, said in problem details like every refusal; one log line a request.
/// </summary>
public static class ErrorHandling
{
    public static void Use(WebApplication app)
    {
        app.Use(LogRequest);
        app.Use(CatchExceptions);
        app.UseStatusCodePages(context => ForStatus(context).Send(context.HttpContext));
    }

    private static Answer ForStatus(StatusCodeContext context) => context.HttpContext.Response.StatusCode switch
    {
        401 => Refused.With(401, "A valid bearer token is needed; ops/setweek token issues one."),
        403 => Refused.With(403, "Your token does not allow this."),
        404 => Refused.With(404, "There is nothing at this address."),
        405 => Refused.With(405, $"This address answers to {context.HttpContext.Response.Headers.Allow} alone."),
        var status => Refused.With(status, "The request was not understood."),
    };

    private static async Task CatchExceptions(HttpContext http, RequestDelegate next)
    {
        try
        {
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            // Nobody is there to be answered.
        }
        catch (Exception wrong) when (!http.Response.HasStarted)
        {
            var answer = ForException(wrong, http.TraceIdentifier);
            if (answer.Status >= 500)
                Logger(http).LogError(wrong, "{Method} {Path} failed: {Trace}",
                    http.Request.Method, http.Request.Path.Value, http.TraceIdentifier);
            http.Response.Clear();
            await answer.Send(http);
        }
    }

    private static Answer ForException(Exception wrong, string trace) => wrong switch
    {
        BadHttpRequestException bad => Refused.With(bad.StatusCode, "The request was not understood."),
        _ when wrong.GetBaseException() is NpgsqlException { IsTransient: true } or System.Net.Sockets.SocketException =>
            Refused.With(503, "The database does not answer; try again."),
        _ => Refused.With(500, $"This is our fault, and nothing was changed. The log has it under {trace}."),
    };

    private static async Task LogRequest(HttpContext http, RequestDelegate next)
    {
        var started = Stopwatch.GetTimestamp();
        await next(http);
        if (http.Request.Path.StartsWithSegments("/health") && http.Response.StatusCode == 200) return; // asked every few seconds
        Logger(http).LogInformation("{Method} {Path} {Status} in {Milliseconds} ms for {Tenant} {Person}", http.Request.Method,
            http.Request.Path.Value, http.Response.StatusCode, (int)Stopwatch.GetElapsedTime(started).TotalMilliseconds,
            http.User.FindFirst(Access.Caller.TenantClaim)?.Value, http.User.FindFirst(Access.Caller.PersonClaim)?.Value);
    }

    private static ILogger Logger(HttpContext http) =>
        http.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger("SetWeek.Requests");
}
