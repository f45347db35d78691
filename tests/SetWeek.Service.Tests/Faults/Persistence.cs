using System.Diagnostics;

namespace SetWeek.Service.Tests.Faults;

/// <summary>
/// A client that repeats a request until it is answered, as a phone with a bad connection does. Each attempt goes to the next
/// node. A broken connection, a timeout and a 5xx answer leave it unknown whether the request was carried out.
/// </summary>
internal sealed class Persistence(IReadOnlyList<ApiClient> nodes)
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(60), Pause = TimeSpan.FromMilliseconds(50);
    private int attempts;

    /// <summary>The number of attempts that were not answered, or answered with 5xx.</summary>
    public int Failures => failures;
    private int failures;

    public async Task<ApiResponse> Ask(Func<ApiClient, Task<ApiResponse>> request)
    {
        for (var started = Stopwatch.GetTimestamp(); ; await Task.Delay(Pause))
        {
            var outcome = "no connection";
            try
            {
                var response = await request(nodes[Interlocked.Increment(ref attempts) % nodes.Count]);
                if (response.Status < 500) return response;
                outcome = $"{response.Status} {response.Text}";
            }
            catch (Exception error) when (error is HttpRequestException or TaskCanceledException or IOException)
            {
                outcome = error.Message;
            }
            Interlocked.Increment(ref failures);
            if (Stopwatch.GetElapsedTime(started) > Limit)
                throw new TimeoutException($"No answer within {Limit.TotalSeconds} seconds; the last attempt: {outcome}");
        }
    }
}
