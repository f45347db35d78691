using OneOf;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Requests;

/// <summary>
/// Admission control for the computations that callers wait for (what-if, why, risk, accepting). Each uses one or two cores, so
/// only a few run at once; further callers queue for a limited time. A free place goes to the chain with the fewest computations,
/// then to the one that was served longest ago, then to the caller who has waited longest.
/// </summary>
/// <param name="capacity">How many computations run at once.</param>
/// <param name="maxWait">How long a caller queues before it is refused.</param>
public sealed class Admission(int capacity, TimeSpan maxWait)
{
    private readonly Lock gate = new();
    private readonly List<Waiter> waiting = [];
    private readonly Dictionary<string, int> running = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> lastTurn = new(StringComparer.Ordinal);
    private int free = capacity;
    private long turn;

    /// <summary>
    /// One place less than there are, if there are several: a chain that computes a lot leaves one to the others.
    /// </summary>
    public int MostPerTenant { get; } = Math.Max(1, capacity - 1);

    /// <summary>
    /// Runs a computation and returns its result, or a refusal if no place became free in time. Queueing blocks no thread; the
    /// computation gets a thread of its own, so that the thread pool stays free for short requests.
    /// </summary>
    /// <param name="tenant">The chain of the caller.</param>
    /// <param name="work">The computation; it must end soon after its token is cancelled.</param>
    /// <param name="cancelled">Cancelled when the caller disconnects.</param>
    /// <exception cref="OperationCanceledException">The caller has disconnected.</exception>
    public Task<OneOf<T, Answer>> Admit<T>(string tenant, Func<CancellationToken, T> work, CancellationToken cancelled) =>
        Admit(tenant, async () =>
        {
            var result = await OnOwnThread(() => work(cancelled));
            cancelled.ThrowIfCancellationRequested();
            return result;
        }, cancelled);

    /// <summary>The same for work that also waits for the database. Its computations get a thread by themselves.</summary>
    public async Task<OneOf<T, Answer>> Admit<T>(string tenant, Func<Task<T>> work, CancellationToken cancelled)
    {
        if (!await Enter(tenant, cancelled))
            return Refused.With(503, "Too many computations are running at the moment. Try again.", "busy")
                with { RetryAfter = maxWait };
        try
        {
            return await work();
        }
        finally
        {
            Leave(tenant);
        }
    }

    /// <summary>Computes on a thread that is not of the pool.</summary>
    public static Task<T> OnOwnThread<T>(Func<T> compute) => Task.Factory.StartNew(
        compute, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    private async Task<bool> Enter(string tenant, CancellationToken cancelled)
    {
        var waiter = new Waiter(tenant);
        lock (gate)
        {
            waiting.Add(waiter);
            FillPlaces();
        }
        try
        {
            await waiter.Entered.Task.WaitAsync(maxWait, cancelled);
            return true;
        }
        catch (TimeoutException)
        {
            return !StopWaiting(waiter);
        }
        catch (OperationCanceledException)
        {
            if (!StopWaiting(waiter)) Leave(tenant);
            throw;
        }
    }

    /// <returns>False if a place was given at the same moment.</returns>
    private bool StopWaiting(Waiter waiter)
    {
        lock (gate) return waiting.Remove(waiter);
    }

    private void Leave(string tenant)
    {
        lock (gate)
        {
            free++;
            if (--running[tenant] == 0) running.Remove(tenant);
            FillPlaces();
        }
    }

    private void FillPlaces()
    {
        while (free > 0 && waiting.Where(waiter => Running(waiter) < MostPerTenant)
            .MinBy(waiter => (Running(waiter), lastTurn.GetValueOrDefault(waiter.Tenant))) is { } next)
        {
            waiting.Remove(next);
            free--;
            running[next.Tenant] = Running(next) + 1;
            lastTurn[next.Tenant] = ++turn;
            next.Entered.SetResult();
        }
    }

    private int Running(Waiter waiter) => running.GetValueOrDefault(waiter.Tenant);

    private sealed class Waiter(string tenant)
    {
        public string Tenant => tenant;
        public TaskCompletionSource Entered { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
