using NodaTime;
using SetWeek.Model.Checking;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// A project network with three-point estimates as a week: one long night, one person for each activity, 100 minutes for each
/// unit of the textbook. It is planned and simulated like any other week.
/// </summary>
internal sealed record PertNetwork(string Name, IReadOnlyList<PertNetwork.PertActivity> Activities)
{
    public const int Unit = 100;

    private static readonly LocalDateTime Opens = new(2027, 1, 4, 0, 0);

    public sealed record PertActivity(string Id, double Optimistic, double Likely, double Pessimistic, params string[] After)
    {
        public ThreePointEstimate Points => new(Optimistic, Likely, Pessimistic);
    }

    /// <summary>The launch, in units, so that the probability of the launch is that of an end by then.</summary>
    public double? Deadline { get; init; }

    public RiskReport Risk(RiskOptions options)
    {
        var week = Week();
        var problem = Problem.Of(week);
        var planned = PlanConverter.ScheduleOf(problem, Planner.Plan(week, new SearchLimits { Effort = 0.2, Workers = 1 }));
        // Shifts span the night, because in a textbook an activity waits for its predecessors alone.
        var schedule = planned
            with { Shifts = [.. planned.Shifts.Select(shift => shift with { From = 0, To = problem.Nights[0].Closes })] };
        Assert.Empty(Checker.Check(problem, schedule));
        return Planning.Risk.RiskSimulation.Of(problem, schedule, options);
    }

    /// <summary>A time in units after the start.</summary>
    public static double Units(OffsetDateTime? time) => (time!.Value.ToInstant() - Opens.InUtc().ToInstant()).TotalMinutes / Unit;

    private Week Week()
    {
        var closes = Opens.PlusMinutes((int)Math.Ceiling(Activities.Sum(activity => activity.Pessimistic) * Unit));
        return new Week
        {
            Id = Name,
            Currency = "EUR",
            GridMinutes = 1,
            Launch = Deadline is { } by ? Opens.PlusMinutes((int)(by * Unit)) : closes,
            Store = new Store { Id = "textbook", TimeZone = "Etc/UTC", Zones = [new("zone", "Zone")] },
            Nights = [new("night", Opens, closes)],
            Crew = [.. Activities.Select(activity => new CrewMember
            {
                Id = $"p-{Lower(activity.Id)}", Name = activity.Id, RatePerHour = 0, Available = [new("night")],
                Skills = new Dictionary<string, int> { [$"does-{Lower(activity.Id)}"] = 1 },
            })],
            Displays = [new("project", Name, DisplayCommitment.Must)],
            Tasks = [.. Activities.Select(activity => new WeekTask
            {
                Id = Lower(activity.Id), Name = activity.Id, Display = "project", Zone = "zone",
                Modes = [new((int)(activity.Likely * Unit), [new($"does-{Lower(activity.Id)}", 1)])],
                After = [.. activity.After.Select(before => new TaskPrecedence(Lower(before)))],
                Estimate = new((int)(activity.Optimistic * Unit), (int)(activity.Pessimistic * Unit)),
            })],
            Rules = new RuleSet(),
            Goals = [new(GoalId.Finish)],
        };
    }

    private static string Lower(string id) => id.ToLowerInvariant();
}
