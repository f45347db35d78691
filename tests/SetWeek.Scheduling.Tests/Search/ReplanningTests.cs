namespace SetWeek.Scheduling.Tests.Search;

/// <summary>Generated weeks whose signs come late, told before the first night and in the middle of later ones.</summary>
public class ReplanningTests
{
    private static readonly Limits Short = new() { Effort = 0.3, Workers = 1 };

    [Fact]
    public void A_week_that_nothing_has_happened_to_keeps_its_published_shifts()
    {
        var week = PlannerTests.Generated("medium", 4);
        var published = Planner.Plan(week, Short);
        var plan = Planner.Plan(week, Short, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
        Assert.Equal(0, plan.Goals.Single(goal => goal.Goal == "changes").Value);
    }

    [Theory]
    [InlineData("small", 3, 0, -600), InlineData("small", 3, 1, 100), InlineData("small", 6, 2, 37),
        InlineData("small", 6, 3, 130)]
    [InlineData("medium", 4, 1, 100), InlineData("medium", 4, 3, 61), InlineData("large", 1, 2, 37)]
    public void A_late_kit_moves_what_it_must_and_keeps_what_has_begun(string size, int seed, int night, int minutes)
    {
        var week = PlannerTests.Generated(size, seed);
        var published = Planner.Plan(week, Short);
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit.Id == "kit-signs"
                ? kit with { Eta = week.Nights[night + 1].Opens.PlusHours(-4) } : kit)],
        };
        var now = week.Nights[night].Opens.PlusMinutes(minutes);
        var replan = new Replan(published, now, Worked(published, now));
        PlannerTests.Kept(late, Planner.Plan(late, Short, replan), replan);
    }

    /// <summary>Everything has gone as planned until now.</summary>
    private static Progress[] Worked(Plan plan, NodaTime.LocalDateTime now) =>
    [
        .. from night in plan.Nights
           from work in night.Work
           where work.From.LocalDateTime < now
           let done = work.To.LocalDateTime <= now
           select new Progress
           {
               Task = work.Task, Stint = work.Stint ?? 1, Night = work.Task is null
                   ? night.Night : null, CleanDown = work.CleanDown,
               State = done ? WorkState.Done : WorkState.Running, From = work.From, To = done ? work.To : null,
           },
    ];
}
