using System.Net.Sockets;
using Npgsql;
using SetWeek.Service.Solving;
using Wolverine;
using Wolverine.ErrorHandling;
using Wolverine.Runtime;

namespace SetWeek.Service;

/// <summary>
/// Durable messages. They are stored in PostgreSQL in the transaction that sends them, and deleted when their handler has
/// finished. After a stop or a crash they are handled again.
/// </summary>
public static class Messaging
{
    public const string SchemaName = "setweek_messages", SolveQueue = "solve";

    public static void Configure(WolverineOptions options, Settings settings)
    {
        options.ServiceName = "setweek";
        options.ApplicationAssembly = typeof(Messaging).Assembly;
        options.Policies.UseDurableLocalQueues();
        options.Policies.AutoApplyTransactions();
        options.Durability.Mode = settings.SeveralNodes ? DurabilityMode.Balanced : DurabilityMode.Solo;

        // A search uses every core it is given, so two at once would only delay both.
        options.PublishMessage<SolvePlan>().ToLocalQueue(SolveQueue);
        options.LocalQueue(SolveQueue).MaximumParallelMessages(1).UseDurableInbox();
        // Interrupted by a shutdown: the message stays in the queue for the next start.
        options.OnException<OperationCanceledException>().Requeue(25);
        options.OnException(error => error.GetBaseException() is NpgsqlException or SocketException,
            "the database does not respond")
            .PauseThenRequeue(TimeSpan.FromSeconds(5));
        options.DefaultExecutionTimeout = SolvePlan.Longest + TimeSpan.FromMinutes(1);
        options.Durability.DrainTimeout = TimeSpan.FromSeconds(5);
    }

    /// <summary>
    /// Compiles the code of the handler at start-up. It takes more than a second, for which the first plan would have to wait.
    /// </summary>
    public static void Prepare(IServiceProvider services) =>
        ((WolverineRuntime)services.GetRequiredService<IWolverineRuntime>()).Handlers.HandlerFor<SolvePlan>();
}
