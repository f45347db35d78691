using System.Runtime.ExceptionServices;

namespace SetWeek.Planning.Search;

/// <summary>
/// Keeps the first exception thrown on other threads, those of the solver included, where it would end the process. Whoever
/// waits for those threads rethrows it. Safe for use from several threads.
/// </summary>
internal sealed class ThreadFault
{
    private ExceptionDispatchInfo? first;

    /// <summary>Some guarded work has thrown.</summary>
    public bool Occurred => first is not null;

    /// <summary>Runs work and keeps what it throws.</summary>
    /// <param name="work">Runs on the calling thread.</param>
    /// <param name="onFault">Runs after an exception was kept, to stop what the work belongs to; must not throw.</param>
    public void Guard(Action work, Action? onFault = null)
    {
        try
        {
            work();
        }
        catch (Exception caught)
        {
            Interlocked.CompareExchange(ref first, ExceptionDispatchInfo.Capture(caught), null);
            onFault?.Invoke();
        }
    }

    /// <summary>Throws the exception kept, with its own stack trace; does nothing where there is none.</summary>
    public void Rethrow() => first?.Throw();
}
