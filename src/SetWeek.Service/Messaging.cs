using System.Net.Sockets;
using Npgsql;
using SetWeek.Service.Solving;
using Wolverine;
using Wolverine.ErrorHandling;
using Wolverine.Runtime;

namespace SetWeek.Service;

/// <summary>
/// Messages survive the process that took them: they are kept in PostgreSQL with the change that sent them until a handler
/// has finished, so that what a stop or a crash leaves undone is taken up again.
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

        // The solver uses every core it is given: two solves at once would only make both late.
        options.PublishMessage<SolvePlan>().ToLocalQueue(SolveQueue);
        options.LocalQueue(SolveQueue).MaximumParallelMessages(1).UseDurableInbox();
        // Cut short by a stop: it stays in the queue, for the next start.
        options.OnException<OperationCanceledException>().Requeue(25);
        options.OnException(wrong => wrong.GetBaseException() is NpgsqlException or SocketException,
            "the database does not answer")
            .PauseThenRequeue(TimeSpan.FromSeconds(5));
        options.DefaultExecutionTimeout = SolvePlan.Longest + TimeSpan.FromMinutes(1);
        options.Durability.DrainTimeout = TimeSpan.FromSeconds(5);
    }

    /// <summary>
    /// Has the handler's code made now, which takes more than a second, rather than while somebody waits for their first plan.
    /// </summary>
    public static void Prepare(IServiceProvider services) =>
        ((WolverineRuntime)services.GetRequiredService<IWolverineRuntime>()).Handlers.HandlerFor(typeof(SolvePlan));
}
