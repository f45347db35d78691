using System.Net.Sockets;
using Npgsql;
using SetWeek.Service.KitDelays;
using SetWeek.Service.Solving;
using Wolverine;
using Wolverine.ErrorHandling;
using Wolverine.Runtime;

namespace SetWeek.Service;

/// <summary>
/// Durable messages. They are stored in PostgreSQL in the transaction that sends them, and deleted when their handler has
/// finished. After a stop or a crash they are handled again. Requests for plans are not messages, but claimed from a table.
/// </summary>
public static class Messaging
{
    public const string SchemaName = "setweek_messages", BatchQueue = "batches", SearchQueue = "batch-searches";

    public static void Configure(WolverineOptions options, Settings settings)
    {
        options.ServiceName = "setweek";
        options.ApplicationAssembly = typeof(Messaging).Assembly;
        options.Policies.UseDurableLocalQueues();
        options.Policies.AutoApplyTransactions();
        options.Durability.Mode = settings.SeveralNodes ? DurabilityMode.Balanced : DurabilityMode.Solo;
        if (settings.SeveralNodes)
        {
            // With the framework's own intervals, the messages of a dead node wait more than a minute for another one.
            var second = TimeSpan.FromSeconds(1);
            var durability = options.Durability;
            (durability.HealthCheckPollingTime, durability.FirstHealthCheckExecution) = (second, second);
            (durability.CheckAssignmentPeriod, durability.NodeReassignmentPollingTime) = (second, second);
            (durability.OrphanedMessageSweepPollingTime, durability.ScheduledJobPollingTime) = (second, second);
            durability.StaleNodeTimeout = TimeSpan.FromSeconds(5);
        }
        options.PublishMessage<DelayKitsOfWeek>().ToLocalQueue(BatchQueue);
        options.PublishMessage<BatchPlanSettled>().ToLocalQueue(BatchQueue);
        options.PublishMessage<FindKitDelayWeeks>().ToLocalQueue(SearchQueue);
        options.LocalQueue(SearchQueue).MaximumParallelMessages(1).UseDurableInbox();
        options.LocalQueue(BatchQueue).MaximumParallelMessages(2).UseDurableInbox();
        // Interrupted by a shutdown: the message stays in the queue for the next start.
        options.OnException<OperationCanceledException>().Requeue(25);
        options.OnException(error => error.GetBaseException() is NpgsqlException or SocketException,
            "the database does not respond")
            .PauseThenRequeue(TimeSpan.FromSeconds(5));
        options.Durability.DrainTimeout = TimeSpan.FromSeconds(5);
    }

    /// <summary>
    /// Compiles the code of the handlers at start-up. It takes more than a second, for which the first batch would have to wait.
    /// </summary>
    public static void Prepare(IServiceProvider services)
    {
        var handlers = ((WolverineRuntime)services.GetRequiredService<IWolverineRuntime>()).Handlers;
        handlers.HandlerFor<FindKitDelayWeeks>();
        handlers.HandlerFor<DelayKitsOfWeek>();
        handlers.HandlerFor<BatchPlanSettled>();
    }
}
