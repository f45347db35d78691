using System.Diagnostics;
using System.Globalization;
using Npgsql;

namespace SetWeek.Bench.Serving;

/// <summary>
/// One late lorry for many stores: plans an hour on one node and on two, and with a node killed half-way; and meanwhile a lead's
/// own request beside the time that it takes on an idle service. The CPU time is that of the service and PostgreSQL, with the
/// lead's own requests. Arguments: stores, effort of a re-plan.
/// </summary>
internal static class ChainBench
{
    public static async Task<int> Run(string[] arguments)
    {
        var stores = arguments.Length > 0 ? int.Parse(arguments[0], CultureInfo.InvariantCulture) : 400;
        var effort = arguments.Length > 1 ? int.Parse(arguments[1], CultureInfo.InvariantCulture) : 1;
        await using var database = NpgsqlDataSource.Create(BenchNode.Postgres);
        await using var first = new BenchNode { SeveralNodes = true };
        await first.Start();
        using var lead = first.As("lead");
        using var head = first.As("head-office");
        var chain = new LorryChain(head, lead);
        var started = Stopwatch.GetTimestamp();
        await chain.Open(stores, database);
        var postgres = await PostgresCpu.Of(database);
        JsonLines.Print(new
        {
            set = "chain", stores, effort, cores = Environment.ProcessorCount, setUpSeconds = Seconds(started),
        });

        var idle = new List<double>();
        for (var time = 0; time < 3; time++) idle.Add(await OwnRequest(lead, effort));
        var idleSeconds = idle.Order().ElementAt(1);
        JsonLines.Print(new { figure = "a lead's request, idle service", seconds = idleSeconds });

        await using var second = new BenchNode(first);
        double Cpu() => postgres.Seconds + first.Cpu.TotalSeconds + (second.IsRunning ? second.Cpu.TotalSeconds : 0);
        var alone = await Batch(database, chain, head, lead, "one node", stores, effort, idleSeconds, Cpu);
        await second.Start();
        var both = await Batch(database, chain, head, lead, "two nodes", stores, effort, idleSeconds, Cpu);
        JsonLines.Print(new
        {
            figure = "speed-up on two nodes", ratio = Math.Round(alone / both, 2), cores = Environment.ProcessorCount,
        });
        await Batch(database, chain, head, lead, "a node killed half-way", stores, effort, idleSeconds, null, second);
        return 0;
    }

    /// <param name="cpu">
    /// Seconds of CPU of the service and of PostgreSQL so far; null where a node is killed, whose time cannot be read then.
    /// </param>
    /// <returns>Seconds until every store had its re-plan.</returns>
    private static async Task<double> Batch(NpgsqlDataSource database, LorryChain chain, HttpClient head, HttpClient lead,
        string nodes, int stores, int effort, double idleSeconds, Func<double>? cpu, BenchNode? killed = null)
    {
        var recorded = await Count(database, "mt_events where type = 'kit-delayed'");
        var cpuBefore = cpu?.Invoke();
        var started = Stopwatch.GetTimestamp();
        var address = await chain.Delay(effort);
        var accepted = Seconds(started);
        List<double> own = [];
        Task<double>? asked = null;
        int? killedAt = null;
        while (true)
        {
            var report = await LorryChain.Report(head, address);
            var open = ((int?)report["sums"]!["states"]!["waiting"] ?? 0) + ((int?)report["sums"]!["states"]!["planning"] ?? 0);
            if (open == 0)
            {
                var seconds = Seconds(started);
                var used = cpu?.Invoke() - cpuBefore;
                if (asked is not null) own.Add(await asked);
                JsonLines.Print(new
                {
                    figure = "one late lorry", nodes, stores, accepted, seconds,
                    plansAnHour = Math.Round(3600 * stores / seconds),
                    cpuSeconds = Rounded(used), cpuSecondsAStore = Rounded(used / stores),
                    states = report["sums"]!["states"]!.ToJsonString(), killedAt,
                    recorded = await Count(database, "mt_events where type = 'kit-delayed'") - recorded,
                    leftOver = await Count(database, "solve_requests"),
                    ownRequestSeconds = own, timesIdle = own.Count == 0 ? (double?)null : Math.Round(own.Max() / idleSeconds, 2),
                });
                return seconds;
            }
            if (open <= stores / 2 && killed is not null && killedAt is null)
            {
                await killed.Kill();
                killedAt = open;
            }
            if (asked is { IsCompleted: true })
            {
                own.Add(await asked);
                asked = null;
            }
            if (asked is null && own.Count < 3 && open < stores) asked = OwnRequest(lead, effort);
            await Task.Delay(100);
        }
    }

    private static async Task<double> OwnRequest(HttpClient lead, int effort)
    {
        var started = Stopwatch.GetTimestamp();
        await LorryChain.Plan(lead, LorryChain.OwnWeek, effort);
        return Seconds(started);
    }

    private static async Task<long> Count(NpgsqlDataSource database, string rows)
    {
        await using var count = database.CreateCommand($"select count(*) from setweek.{rows}");
        return (long)(await count.ExecuteScalarAsync())!;
    }

    private static double? Rounded(double? seconds) => seconds is { } some ? Math.Round(some, 2) : null;

    private static double Seconds(long started) => Math.Round(Stopwatch.GetElapsedTime(started).TotalSeconds, 2);
}
