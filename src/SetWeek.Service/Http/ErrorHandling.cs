using Microsoft.AspNetCore.Diagnostics;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;

namespace SetWeek.Service.Http;

/// <summary>
/// Turns errors of the framework and unhandled exceptions into problem details, and writes one log line for each request.
/// </summary>
public static class ErrorHandling
{
    public static void Use(WebApplication app)
    {
        app.Use(LogRequest);
        app.Use(CatchExceptions);
        app.UseStatusCodePages(context => context.HttpContext.Reply(ForStatus(context)));
    }

    private static Answer ForStatus(StatusCodeContext context) => context.HttpContext.Response.StatusCode switch
    {
        // Whoever signs out without a session is signed out.
        401 when context.HttpContext.Request.Path == "/sign-out" && context.HttpContext.WantsPage() => Answer.SeeOther("/"),
        401 => Refused.NotSignedIn(FormPost.IsForm(context.HttpContext)),
        403 => Refused.With(403, "Your token does not allow this."),
        404 => Refused.With(404, "Nothing exists at this address."),
        405 => Refused.With(405, $"This address supports only {context.HttpContext.Response.Headers.Allow}."),
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
            // The caller has disconnected.
        }
        catch (Exception error) when (!http.Response.HasStarted)
        {
            var answer = ForException(error, http.TraceIdentifier);
            if (answer.Status == 503)
                http.RequestServices.GetRequiredService<OutageLog>().Report(Logger(http), error, http.TraceIdentifier);
            else if (answer.Status >= 500)
                Logger(http).LogError(error, "{Method} {Path} failed: {Trace}",
                    http.Request.Method, LoggedPath(http), http.TraceIdentifier);
            http.Response.Clear();
            await http.Reply(answer);
        }
    }

    private static Answer ForException(Exception error, string trace) => error switch
    {
        BadHttpRequestException bad => Refused.With(bad.StatusCode, "The request was not understood."),
        _ when IsOutage(error) => Refused.With(503, "The database does not respond. Try again."),
        _ => Refused.With(500, $"An internal error occurred, and nothing was changed. The log has the details under {trace}."),
    };

    /// <summary>
    /// Whether the database did not answer: an exception of Npgsql says so, or one that it or Marten has wrapped.
    /// </summary>
    private static bool IsOutage(Exception error) =>
        error is NpgsqlException { IsTransient: true } or System.Net.Sockets.SocketException
        || error.InnerException is { } inner && IsOutage(inner);

    private static async Task LogRequest(HttpContext http, RequestDelegate next)
    {
        var clock = http.RequestServices.GetRequiredService<TimeProvider>();
        var started = clock.GetTimestamp();
        await next(http);
        // Polled every few seconds.
        if (http.Request.Path.StartsWithSegments("/health") && http.Response.StatusCode == 200) return;
        Logger(http).LogInformation("{Method} {Path} {Status} in {Milliseconds} ms for {Tenant} {Person}: {Trace}",
            http.Request.Method, LoggedPath(http), http.Response.StatusCode,
            (int)clock.GetElapsedTime(started).TotalMilliseconds,
            http.User.FindFirst(Caller.TenantClaim)?.Value, http.User.FindFirst(Caller.PersonClaim)?.Value,
            http.TraceIdentifier);
    }

    /// <summary>The path without a sign-in link or the address of a calendar, which are secrets.</summary>
    private static string? LoggedPath(HttpContext http) =>
        http.Request.Path.StartsWithSegments(SignInLinks.Path) ? SignInLinks.Path : CalendarSecret.Logged(http.Request.Path);

    private static ILogger Logger(HttpContext http) =>
        http.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger("SetWeek.Requests");
}
