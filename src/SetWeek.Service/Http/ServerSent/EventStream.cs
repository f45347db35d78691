using System.Globalization;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.IdentityModel.JsonWebTokens;
using SetWeek.Service.Access.Sessions;

namespace SetWeek.Service.Http.ServerSent;

/// <summary>
/// Sends server-sent events until the caller disconnects, the token expires, the service stops or the events end. A comment goes
/// out when there has been none for a while, so that neither side takes the connection for dead.
/// </summary>
public static class EventStream
{
    public const string ContentType = "text/event-stream";

    private static readonly TimeSpan Heartbeat = TimeSpan.FromSeconds(15);

    /// <summary>A browser connects again by itself; then it is seen whether its session has been closed.</summary>
    private static readonly TimeSpan LongestOfSession = TimeSpan.FromMinutes(5);
    private static readonly byte[] Comment = ":\n\n"u8.ToArray(), Opening = "retry: 1000\n\n"u8.ToArray();

    public static async Task Send(HttpContext http, IAsyncEnumerable<StreamEvent> events)
    {
        var clock = http.RequestServices.GetRequiredService<TimeProvider>();
        using var expiry = new CancellationTokenSource(TimeLeft(http, clock), clock);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted, expiry.Token,
            http.RequestServices.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping);
        http.Response.ContentType = ContentType;
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers.XContentTypeOptions = "nosniff";
        if (HttpMethods.IsHead(http.Request.Method)) return;
        http.Features.Get<IHttpResponseBodyFeature>()?.DisableBuffering();
        try
        {
            await http.Response.Body.WriteAsync(Opening, end.Token);
            await http.Response.Body.FlushAsync(end.Token);
            await Write(http.Response.Body, events, clock, end.Token);
        }
        catch (OperationCanceledException) when (end.IsCancellationRequested)
        {
            // The end of the stream.
        }
        finally
        {
            await end.CancelAsync();
        }
    }

    private static async Task Write(
        Stream body, IAsyncEnumerable<StreamEvent> events, TimeProvider clock, CancellationToken end)
    {
        await using var source = events.GetAsyncEnumerator(end);
        var next = source.MoveNextAsync().AsTask();
        try
        {
            var beat = Task.Delay(Heartbeat, clock, end);
            while (true)
            {
                if (!next.IsCompleted) await body.FlushAsync(end);
                while (!next.IsCompleted && await Task.WhenAny(next, beat) != next)
                {
                    await beat; // throws at the end of the stream
                    await body.WriteAsync(Comment, end);
                    await body.FlushAsync(end);
                    beat = Task.Delay(Heartbeat, clock, end);
                }
                if (!await next) return;
                await body.WriteAsync(source.Current.Frame, end);
                next = source.MoveNextAsync().AsTask();
            }
        }
        finally
        {
            // The source must not be disposed while it is asked for the next event; it ends with the token.
            await ((Task)next).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    /// <summary>The time until the caller's token or session must be looked at again; without end if it has none.</summary>
    private static TimeSpan TimeLeft(HttpContext http, TimeProvider clock)
    {
        if (!long.TryParse(http.User.FindFirst(JwtRegisteredClaimNames.Exp)?.Value, NumberStyles.None,
            CultureInfo.InvariantCulture, out var seconds)) return Timeout.InfiniteTimeSpan;
        var left = DateTimeOffset.FromUnixTimeSeconds(seconds) - clock.GetUtcNow();
        if (SessionCookie.IsUsedBy(http.User) && left > LongestOfSession) left = LongestOfSession;
        return TimeSpan.FromMilliseconds(Math.Clamp(left.TotalMilliseconds, 0, int.MaxValue));
    }
}
