using System.Net.Sockets;
using Npgsql;

namespace SetWeek.Service.Solving;

/// <summary>Tells a database that does not respond from a fault of ours.</summary>
internal static class DatabaseFaults
{
    public static bool Is(Exception error) => error.GetBaseException() is NpgsqlException or SocketException or IOException;
}
