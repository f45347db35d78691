using Npgsql;
using SetWeek.Service.Access;

namespace SetWeek.Service;

/// <summary>Looks, before anything starts, whether the database and the key can be used.</summary>
internal static class StartChecks
{
    /// <returns>What is missing, in a sentence without a password; null if nothing is.</returns>
    public static async Task<string?> Fault(Settings settings)
    {
        var database = new NpgsqlConnectionStringBuilder(settings.Postgres);
        var place = $"PostgreSQL at {database.Host}:{database.Port}";
        try
        {
            SigningKey.ReadOrCreate(settings.KeyFile);
            await using var connection = new NpgsqlConnection(settings.Postgres);
            await connection.OpenAsync();
            return null;
        }
        catch (PostgresException refused)
        {
            return $"{place} refuses the connection: {refused.MessageText}. Correct {Settings.PostgresVariable}, or the server.";
        }
        catch (Exception error) when (error is NpgsqlException or TimeoutException or System.Net.Sockets.SocketException)
        {
            return $"{place} does not answer ({error.GetBaseException().Message}). "
                + $"Start it, or correct {Settings.PostgresVariable}.";
        }
        catch (Exception error) when (error is InvalidOperationException or FormatException or IOException
            or UnauthorizedAccessException)
        {
            return $"The signing key cannot be used: {error.Message}";
        }
    }
}
