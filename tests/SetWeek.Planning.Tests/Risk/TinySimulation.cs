using NodaTime;
using SetWeek.Model.Durations;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// Simulates a tiny plan: with triangular distributions, whose means are simple, and with few runs, since most results are
/// certain.
/// </summary>
internal static class TinySimulation
{
    public static RiskReport Risk(this TinyPlan plan, int runs = 2000, int seed = 0, int workers = 2)
    {
        if (plan.Problem.Facts is null) Assert.Empty(plan.BrokenRules);
        return Planning.Risk.RiskSimulation.Of(plan.Problem, plan.Schedule,
            new RiskOptions { Runs = runs, Seed = seed, Distribution = DurationDistribution.Triangular, Workers = workers });
    }

    public static TaskRisk Of(this RiskReport risk, string task) => risk.Tasks.Single(row => row.Task == task);

    public static NightRisk In(this RiskReport risk, string night) => risk.Nights.Single(row => row.Night == night);

    /// <summary>The day of the month and the store's local time, for example "09 02:00".</summary>
    public static string Clock(this OffsetDateTime? time) =>
        time is { } known ? known.ToString("dd HH:mm", System.Globalization.CultureInfo.InvariantCulture) : "never";

    public static Func<WeekTask, WeekTask> WithEstimate(int optimistic, int pessimistic) => task =>
        task with { Estimate = new(optimistic, pessimistic) };

    public static Func<WeekTask, WeekTask> Then(this Func<WeekTask, WeekTask> first, Func<WeekTask, WeekTask> then) =>
        task => then(first(task));

    public static Func<WeekTask, WeekTask> WithPredecessor(string before, int dry = 0, bool sameNight = false) =>
        task => task with { After = [.. task.After, new(before) { DryMinutes = dry, SameNight = sameNight }] };
}
