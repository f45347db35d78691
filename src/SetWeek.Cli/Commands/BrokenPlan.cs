using SetWeek.Model.Plans;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;

namespace SetWeek.Cli.Commands;

/// <summary>A plan that was changed by hand, or of another week: what would be said of it would not be so.</summary>
internal static class BrokenPlan
{
    /// <summary>
    /// In the middle of a week the facts may have broken what they like; a plan that has not begun keeps the rules.
    /// </summary>
    /// <param name="cannot">What cannot be said of it then.</param>
    public static async Task<bool> Report(Problem problem, Schedule schedule, string cannot)
    {
        if (problem.Facts is not null || Checker.Check(problem, schedule) is not { Count: > 0 } breaches) return false;
        foreach (var breach in breaches) await Console.Error.WriteLineAsync($"{breach.Rule.Text()}: {breach.Sentence}");
        await Console.Error.WriteLineAsync($"The plan breaks rules: {cannot} cannot be said.");
        return true;
    }
}
