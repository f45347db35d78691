using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Cli.Commands;

/// <summary>Rejects a plan that breaks rules, such as one edited by hand or made for another week.</summary>
internal static class BrokenPlan
{
    /// <summary>
    /// Prints the broken rules to standard error. In the middle of a week nothing is checked, because reported work may break
    /// rules without any fault of the plan.
    /// </summary>
    /// <param name="consequence">What cannot be done with such a plan, to end the sentence with.</param>
    /// <returns>Whether the plan breaks rules.</returns>
    public static async Task<bool> Report(Problem problem, Schedule schedule, string consequence)
    {
        if (problem.Facts is not null || Checker.Check(problem, schedule) is not { Count: > 0 } breaches) return false;
        foreach (var breach in breaches) await Console.Error.WriteLineAsync($"{breach.Rule.Text()}: {breach.Sentence}");
        await Console.Error.WriteLineAsync($"The plan breaks these rules, so {consequence}.");
        return true;
    }
}
