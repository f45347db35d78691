using System.Diagnostics;

namespace SetWeek.Service.Tests.Feed;

/// <summary>Counts the commands that this flow of control sends to PostgreSQL, by the traces of the driver.</summary>
public sealed class CommandCount : IDisposable
{
    private readonly Activity flow = new Activity("count").Start();
    private readonly ActivityListener listener;
    private int count;

    public CommandCount()
    {
        listener = new ActivityListener
        {
            ShouldListenTo = source => source.Name == "Npgsql",
            Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllData,
            ActivityStarted = command =>
            {
                if (command.TraceId == flow.TraceId) Interlocked.Increment(ref count);
            },
        };
        ActivitySource.AddActivityListener(listener);
    }

    public int Count => count;

    public void Dispose()
    {
        listener.Dispose();
        flow.Dispose();
    }
}
