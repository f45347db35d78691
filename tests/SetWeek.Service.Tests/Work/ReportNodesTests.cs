using System.Globalization;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Solving;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Work;

/// <summary>Two nodes on one database.</summary>
public sealed class ReportNodesTests
{
    [Fact]
    public async Task Two_nodes_take_reports_on_one_week_and_see_each_others_at_once()
    {
        const int phones = 12, each = 6;
        await using var database = new ServiceDatabase(RunningService.Postgres);
        await using var first = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await using var second = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await first.Start();
        await second.Start();
        var nodes = ((ServiceProcess[])[first, second]).Select(node => node.As("ada", Role.Lead)).ToList();
        await ExpectStatus(201, first.As("ada", Role.HeadOffice).Post("/directions", Direction));
        await ExpectStatus(201, first.As("ada", Role.HeadOffice).Post("/stores", Samples.Store()));
        await ExpectStatus(201, nodes[0].Post("/weeks", Opening));
        Assert.Equal(1, (int)(await ExpectStatus(200, nodes[1].Get(Address))).Json["version"]!);

        var versions = await Task.WhenAll(Enumerable.Range(0, phones).Select(async phone =>
        {
            var own = new List<int>();
            for (var n = 0; n < each; n++)
            {
                var (node, other) = (nodes[(phone + n) % 2], nodes[(phone + n + 1) % 2]);
                var answer = await ExpectStatus(200, node.Post($"{Address}/kits/forms/arrived",
                    $$"""{"id": "phone-{{phone}}.{{n}}", "at": "2027-03-08T11:{{phone + 10}}:0{{n}}Z"}"""));
                var version = int.Parse(answer.ETag!.Trim('"'), CultureInfo.InvariantCulture);
                Assert.True((int)(await ExpectStatus(200, other.Get(Address))).Json["version"]! >= version,
                    $"The other node did not see version {version}.");
                own.Add(version);
            }
            Assert.Equal(own.Order(), own);
            return own;
        }));
        Assert.Equal(Enumerable.Range(2, phones * each), versions.SelectMany(own => own).Order());
    }
}
