using OneOf;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Requests;

/// <summary>
/// Admission control for what is worked out while the caller waits (what if, why, risk): each takes a core or two, so that
/// few are under way at once, and whoever comes then waits for a turn, and not for long.
/// </summary>
/// <param name="capacity">How many are worked out at once.</param>
/// <param name="maxWait">How long one waits for a turn.</param>
public sealed class Admission(int capacity, TimeSpan maxWait)
{
    private readonly SemaphoreSlim turns = new(capacity);

    /// <summary>
    /// What comes of the work, or the refusal. Waiting takes no thread; the work has a thread of its own, so that those of
    /// the pool are there for whoever asks something quick.
    /// </summary>
    /// <param name="work">Ends when it is cancelled.</param>
    /// <param name="cancelled">The caller has hung up.</param>
    /// <exception cref="OperationCanceledException">Nobody is there to be answered.</exception>
    public async Task<OneOf<T, Answer>> Admit<T>(Func<CancellationToken, T> work, CancellationToken cancelled)
    {
        if (!await turns.WaitAsync(maxWait, cancelled))
            return Refused.With(503, "Too much is being worked out at the moment; try again.", "busy")
                with { RetryAfter = maxWait };
        try
        {
            var made = await Task.Factory.StartNew(() => work(cancelled), CancellationToken.None, TaskCreationOptions.LongRunning,
                TaskScheduler.Default);
            cancelled.ThrowIfCancellationRequested();
            return made;
        }
        finally
        {
            turns.Release();
        }
    }
}
