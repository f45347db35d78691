using NodaTime;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// A tiny plan put to chance: triangles, since their means are sums of thirds, and few runs, since most answers are certain.
/// </summary>
internal static class TinySimulation
{
    public static RiskReport Risk(this TinyPlan plan, int runs = 2000, int seed = 0, int workers = 2)
    {
        if (plan.Problem.Facts is null) Assert.Empty(plan.BrokenRules);
        return Planning.Risk.RiskSimulation.Of(plan.Problem, plan.Schedule,
            new RiskOptions { Runs = runs, Seed = seed, Distribution = DurationDistribution.Triangular, Workers = workers });
    }

    public static TaskRisk Of(this RiskReport risk, string task) => risk.Tasks.Single(one => one.Task == task);

    public static NightRisk In(this RiskReport risk, string night) => risk.Nights.Single(one => one.Night == night);

    /// <summary>The store's date and time of day, as "09 02:00".</summary>
    public static string Clock(this OffsetDateTime? time) =>
        time is { } at ? at.ToString("dd HH:mm", System.Globalization.CultureInfo.InvariantCulture) : "never";

    public static Func<WeekTask, WeekTask> WithEstimate(int optimistic, int pessimistic) => task =>
        task with { Estimate = new(optimistic, pessimistic) };

    public static Func<WeekTask, WeekTask> Then(this Func<WeekTask, WeekTask> first, Func<WeekTask, WeekTask> then) =>
        task => then(first(task));

    public static Func<WeekTask, WeekTask> WithPredecessor(string before, int dry = 0, bool sameNight = false) =>
        task => task with { After = [.. task.After, new(before) { DryMinutes = dry, SameNight = sameNight }] };
}
