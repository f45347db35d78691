using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Solving;

/// <summary>
/// What becomes of a plan that is being worked out when the service goes: the scenario's week, which takes a while.
/// </summary>
public sealed class StoppedSolveTests
{
    [Fact]
    public async Task A_killed_solve_is_taken_up_again_and_settles_once()
    {
        await using var service = new ServiceProcess();
        await service.Start();
        var lead = await Open(service);
        var plan = await Ask(lead, seconds: 5);
        await ServiceProcess.Until(async () => await State(lead, plan) == "solving");

        await service.Kill();
        await service.Start();

        await ServiceProcess.Until(async () => await State(lead, plan) is "ready");
    }

    /// <summary>As if the solver ended the process each time that it is given this week.</summary>
    [Fact]
    public async Task A_solve_that_takes_the_service_with_it_three_times_is_given_up_and_others_go_on()
    {
        await using var service = new ServiceProcess();
        await service.Start();
        var lead = await Open(service);
        var plan = await Ask(lead, seconds: 100);
        for (var attempt = 0; attempt < 3; attempt++)
        {
            await ServiceProcess.Until(async () => (await lead.Get(plan)).Json["best"] is not null); // this process is at it
            await service.Kill();
            await service.Start();
        }

        await ServiceProcess.Until(async () => await State(lead, plan) == "failed");
        Assert.StartsWith("The search was started 3 times", (string?)(await lead.Get(plan)).Json["failure"]);
        var another = await Ask(lead, seconds: 2);
        await ServiceProcess.Until(async () => await State(lead, another) is "ready" or "none");
    }

    [Fact]
    public async Task A_stopped_service_ends_within_seconds_and_takes_the_solve_up_again_until_a_newer_request_cancels_it()
    {
        await using var service = new ServiceProcess();
        await service.Start();
        var lead = await Open(service);
        var plan = await Ask(lead, seconds: 100);
        await ServiceProcess.Until(async () => await State(lead, plan) == "solving");
        await Task.Delay(TimeSpan.FromSeconds(1)); // into its search

        var (took, code) = await service.Stop();
        Assert.True(took < TimeSpan.FromSeconds(8), $"It took {took.TotalSeconds:0.0} s to stop.");
        Assert.Equal(0, code);

        await service.Start();
        await ServiceProcess.Until(async () => (await lead.Get(plan)).Json["best"] is not null);
        var newer = await Ask(lead, seconds: 2);
        await ServiceProcess.Until(async () => await State(lead, newer) == "ready");
        Assert.Equal("cancelled", await State(lead, plan));
    }

    private static async Task<Voice> Open(ServiceProcess service)
    {
        await HarbourStreet.Open(service.As("ada", Role.HeadOffice));
        return service.As("lena", Role.Lead);
    }

    private static async Task<string> Ask(Voice lead, int seconds)
    {
        var asked = await lead
            .Post($"{HarbourStreet.Address}/plans", $$"""{"seconds": {{seconds}}, "workers": 1, "now": "2027-03-05T12:00"}""");
        Assert.True(asked.Status == 202, asked.Text);
        return asked.Location!;
    }

    private static async Task<string?> State(Voice lead, string plan) => (string?)(await lead.Get(plan)).Json["state"];
}
