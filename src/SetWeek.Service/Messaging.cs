using System.Net.Sockets;
using Npgsql;
using Wolverine;
using Wolverine.ErrorHandling;

namespace SetWeek.Service;

/// <summary>
/// Durable messages. They are stored in PostgreSQL in the transaction that sends them, and deleted when their handler has
/// finished. After a stop or a crash they are handled again. Requests for plans are not messages, but claimed from a table.
/// </summary>
public static class Messaging
{
    public const string SchemaName = "setweek_messages";

    public static void Configure(WolverineOptions options, Settings settings)
    {
        options.ServiceName = "setweek";
        options.ApplicationAssembly = typeof(Messaging).Assembly;
        options.Policies.UseDurableLocalQueues();
        options.Policies.AutoApplyTransactions();
        options.Durability.Mode = settings.SeveralNodes ? DurabilityMode.Balanced : DurabilityMode.Solo;
        // Interrupted by a shutdown: the message stays in the queue for the next start.
        options.OnException<OperationCanceledException>().Requeue(25);
        options.OnException(error => error.GetBaseException() is NpgsqlException or SocketException,
            "the database does not respond")
            .PauseThenRequeue(TimeSpan.FromSeconds(5));
        options.Durability.DrainTimeout = TimeSpan.FromSeconds(5);
    }
}
