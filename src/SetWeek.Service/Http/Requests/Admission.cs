using OneOf;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Requests;

/// <summary>
/// Admission control for the computations that callers wait for (what-if, why, risk). Each uses one or two cores, so only a few
/// run at once; further callers queue for a limited time.
/// </summary>
/// <param name="capacity">How many computations run at once.</param>
/// <param name="maxWait">How long a caller queues before it is refused.</param>
public sealed class Admission(int capacity, TimeSpan maxWait) : IDisposable
{
    private readonly SemaphoreSlim slots = new(capacity);

    /// <inheritdoc/>
    public void Dispose() => slots.Dispose();

    /// <summary>
    /// Runs a computation and returns its result, or a refusal if no slot became free in time. Queueing blocks no thread; the
    /// computation gets a thread of its own, so that the thread pool stays free for short requests.
    /// </summary>
    /// <param name="work">The computation; it must end soon after its token is cancelled.</param>
    /// <param name="cancelled">Cancelled when the caller disconnects.</param>
    /// <exception cref="OperationCanceledException">The caller has disconnected.</exception>
    public async Task<OneOf<T, Answer>> Admit<T>(Func<CancellationToken, T> work, CancellationToken cancelled)
    {
        if (!await slots.WaitAsync(maxWait, cancelled))
            return Refused.With(503, "Too many computations are running at the moment. Try again.", "busy")
                with { RetryAfter = maxWait };
        try
        {
            var result = await Task.Factory.StartNew(
                () => work(cancelled), CancellationToken.None, TaskCreationOptions.LongRunning,
                TaskScheduler.Default);
            cancelled.ThrowIfCancellationRequested();
            return result;
        }
        finally
        {
            slots.Release();
        }
    }
}
