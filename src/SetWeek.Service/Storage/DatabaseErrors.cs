using System.Net.Sockets;
using JasperFx;
using JasperFx.Events;
using Npgsql;

namespace SetWeek.Service.Storage;

/// <summary>What an exception of the database means.</summary>
public static class DatabaseErrors
{
    /// <summary>
    /// Whether another transaction has committed a change to the same stream or document or has written a row with the same key,
    /// or the database has ended one of two that waited for each other. With several documents the exception is an aggregate of
    /// one for each.
    /// </summary>
    public static bool IsConflict(Exception error) => error switch
    {
        ConcurrencyException or ExistingStreamIdCollisionException or Marten.Exceptions.ExistingStreamIdCollisionException =>
            true,
        AggregateException several => several.InnerExceptions.Any(IsConflict),
        _ => error.GetBaseException() is PostgresException
        {
            SqlState: PostgresErrorCodes.DeadlockDetected or PostgresErrorCodes.UniqueViolation,
        },
    };

    /// <summary>Whether another transaction held a lock for too long.</summary>
    public static bool IsLockTimeout(Exception error) =>
        error.GetBaseException() is PostgresException { SqlState: PostgresErrorCodes.LockNotAvailable };

    /// <summary>Whether the database does not respond.</summary>
    public static bool IsOutage(Exception error) =>
        error.GetBaseException() is NpgsqlException { IsTransient: true } or SocketException;
}
