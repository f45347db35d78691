using System.Globalization;
using SetWeek.Service.Tests.Ops;
using Xunit.Abstractions;

namespace SetWeek.Service.Tests.Faults;

/// <summary>
/// Nothing acknowledged is lost, repeated or reordered when nodes and the database end without warning. <c>ops/faults</c> runs
/// more rounds and prints the counts.
/// </summary>
public sealed class FaultTests(ITestOutputHelper output)
{
    private const string RoundsVariable = "SETWEEK_FAULTS_ROUNDS", SeedVariable = "SETWEEK_FAULTS_SEED",
        ReportVariable = "SETWEEK_FAULTS_REPORT";

    private static readonly TimeSpan Between = TimeSpan.FromSeconds(2);

    private static readonly IReadOnlyList<(string Name, Func<LoadedService, Task> Inflict)> All =
    [
        ("one node killed", service => Restart(service, 0)),
        ("the other node killed", service => Restart(service, 1)),
        ("both nodes killed", async service =>
        {
            foreach (var node in service.Nodes) await node.Kill();
            await Task.WhenAll(service.Nodes.Select(node => node.Start()));
        }),
        // Longer than the lease on a request for a plan, so that the other node takes it over.
        ("one node hanging", service => service.Nodes[0].Hang(TimeSpan.FromSeconds(8))),
        ("PostgreSQL killed", async service =>
        {
            await service.Postgres.Kill();
            await service.Postgres.Start();
        }),
    ];

    [PostgresFact]
    public async Task Nothing_acknowledged_is_lost_when_nodes_and_the_database_fail()
    {
        var (rounds, seed) = (Number(RoundsVariable, 1), Number(SeedVariable, 1));
        var random = new Random(seed);
        await using var service = await LoadedService.Create($"faults-{Environment.ProcessId}", seed);
        await service.Start();
        for (var round = 0; round < rounds; round++)
            foreach (var (name, inflict) in All.OrderBy(_ => random.Next()).ToList())
            {
                await service.Run(Between);
                Say(name);
                await inflict(service);
            }
        await service.Run(Between);
        var counts = await service.Verify();
        Say($"{rounds * All.Count} faults, seed {seed}: {counts.Reports} reports acknowledged, each stored once; "
            + $"{counts.Plans} plans requested, each settled; {counts.FeedEvents} events of the feed, followed by pages and over "
            + $"{counts.Streams} connections to its stream without gap, repeat or disorder; figures of {counts.Weeks} weeks "
            + $"computed again, equal to the live ones; {counts.Failures} attempts repeated.");
        Assert.True(counts.Reports > 50, $"Only {counts.Reports} reports were acknowledged.");
    }

    /// <summary>Writes to the output of the test and, if the variable names one, to a file.</summary>
    private void Say(string line)
    {
        output.WriteLine(line);
        if (Environment.GetEnvironmentVariable(ReportVariable) is { Length: > 0 } report)
            File.AppendAllText(report, line + Environment.NewLine);
    }

    private static async Task Restart(LoadedService service, int node)
    {
        await service.Nodes[node].Kill();
        await service.Run(Between); // the other node serves meanwhile
        await service.Nodes[node].Start();
    }

    private static int Number(string variable, int otherwise) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } given ? int.Parse(given, CultureInfo.InvariantCulture)
            : otherwise;
}
