using System.Globalization;
using Npgsql;

namespace SetWeek.Bench.Serving;

/// <summary>CPU time of a PostgreSQL on this machine (Linux): of its first process, and of all that it has started.</summary>
internal sealed class PostgresCpu(int parent)
{
    /// <summary>Clock ticks a second in /proc (proc(5), USER_HZ), which is 100 on all common platforms.</summary>
    private const double TicksPerSecond = 100;

    /// <summary>Places of fields in /proc/PID/stat, counted from the state, which follows the name (proc(5)).</summary>
    private const int Parent = 1, User = 11, WaitedForKernel = 14;

    public static async Task<PostgresCpu> Of(NpgsqlDataSource database)
    {
        await using var read = database.CreateCommand("select pg_backend_pid()");
        var backend = (int)(await read.ExecuteScalarAsync())!;
        return new PostgresCpu((int)Fields(backend)![Parent]);
    }

    /// <summary>So far; of processes that have ended the parent has the time.</summary>
    public double Seconds
    {
        get
        {
            var ticks = Fields(parent)![User..(WaitedForKernel + 1)].Sum();
            foreach (var folder in Directory.GetDirectories("/proc"))
                if (int.TryParse(Path.GetFileName(folder), CultureInfo.InvariantCulture, out var process)
                    && Fields(process) is { } fields && fields[Parent] == parent)
                    ticks += fields[User] + fields[User + 1];
            return ticks / TicksPerSecond;
        }
    }

    /// <returns>Null if the process has ended.</returns>
    private static long[]? Fields(int process)
    {
        try
        {
            var stat = File.ReadAllText($"/proc/{process}/stat");
            return [.. stat[(stat.LastIndexOf(')') + 2)..].Split(' ').Take(WaitedForKernel + 1)
                .Select((field, at) => at == 0 ? 0 : long.Parse(field, CultureInfo.InvariantCulture))];
        }
        catch (IOException)
        {
            return null;
        }
    }
}
