using SetWeek.Service.Access;
using SetWeek.Service.Tests.Solving;
using static SetWeek.Service.Tests.KitDelays.LorryWeeks;

namespace SetWeek.Service.Tests.KitDelays;

/// <summary>A batch whose node is killed while it runs.</summary>
public sealed class KilledBatchTests
{
    [Fact]
    public async Task A_batch_goes_on_after_a_kill_and_does_nothing_twice()
    {
        string[] stores = ["abbey", "harbour-street", "mill-lane", "quay", "wharf"];
        await using var database = new ServiceDatabase(RunningService.Postgres);
        await using var service = new ServiceProcess(database);
        await service.Start();
        var weeks = new LorryWeeks(service.As("ada", Role.HeadOffice), service.As("lena", Role.Lead));
        await weeks.Open(stores);
        foreach (var store in stores) await weeks.Publish(store);

        var address = await weeks.Delay(AfterTheirNight, """, "effort": 1""");
        await service.Kill(); // at once: some weeks are recorded, most are not
        await service.Start();
        await ServiceProcess.Until(async () => (int?)(await weeks.Report(address))["sums"]!["states"]!["planned"] >= 1);
        await service.Kill(); // some are planned, others wait
        await service.Start();

        var report = await weeks.WhenDone(address);
        Assert.Equal(5, (int)report["sums"]!["states"]!["planned"]!);
        Assert.Equal(5L, await database.Query("select count(*) from setweek.mt_events where type = 'kit-delayed'"));
        Assert.Equal(5L, await database.Query(
            "select count(*) from setweek.mt_doc_candidateplan where data ->> 'batch' is not null and id not like '%.%'"));
        Assert.Equal(0L, await database.Query("select count(*) from setweek.solve_requests"));
    }
}
