using System.Globalization;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Certainty;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Service.Words;

/// <summary>The chance that a plan holds, as users read it.</summary>
public sealed class ChanceSentences(Week week)
{
    private readonly WeekLabels words = new(week);

    /// <summary>The chance with its interval, and what is left half-secured.</summary>
    public IEnumerable<string> Of(HoldChance chance)
    {
        yield return $"The plan holds in {Percent(chance.Holds)} of {Number(chance.Holds.Runs)} simulated weeks "
            + $"(95 % interval: {Interval(chance.Holds)}){Asked(chance)}. It holds if every "
            + $"night closes at most {GoalLabels.Length(chance.GraceMinutes)} late, everything is ready by launch and by its due "
            + "night, and nothing is left half-secured.";
        foreach (var sentence in HalfSecured(chance)) yield return sentence;
    }

    private IEnumerable<string> HalfSecured(HoldChance chance)
    {
        yield return chance.HalfSecured is not { } mostOften ? "Nothing is left half-secured for a morning in any of them."
            : $"In {Percent(chance.Secured)} nothing is left half-secured for a morning. Most often "
                + $"“{words.TaskName(mostOften.Next)}” does not follow “{words.TaskName(mostOften.Task)}” in the same night "
                + $"({Percent(mostOften.Probability)}).";
        if (chance.IsLeftHalfSecured())
            yield return $"That is a matter of safety. Before “{words.TaskName(chance.HalfSecured!.Task)}” is begun, make sure "
                + $"that there is time for “{words.TaskName(chance.HalfSecured.Next)}” too.";
    }

    /// <summary>What the week asks for; empty if hold is none of its goals.</summary>
    private string Asked(HoldChance chance) =>
        chance.AskedPercent > 0 && week.Goals.Concat(week.ReplanGoals).Any(choice => choice.Goal == GoalId.Hold)
            ? $"; the week asks for {chance.AskedPercent} %" : "";

    /// <summary>How near the surest of several plans comes to the chance that the week asks for.</summary>
    public string Of(CertaintyOffer offer)
    {
        if (offer.Plans is not [.., var surest])
            return offer.WithoutPlan?.Status == PlanStatus.Infeasible
                ? "No plan exists: the requirements contradict each other. The conflict and the repairs say what to change."
                : "No plan was found in the time given. One may exist: try again with more time.";
        var holds = $"{Percent(surest.Chance.Holds)} of {Number(surest.Chance.Holds.Runs)} simulated weeks "
            + $"(95 % interval: {Interval(surest.Chance.Holds)})";
        return surest.Chance.Holds.Share * 100 >= week.Hold.Chance
            ? $"The surest of these plans holds in {holds}; the week asks for {week.Hold.Chance} %."
            : $"None of these plans reaches the {week.Hold.Chance} % that the week asks for. The surest holds in {holds}. "
                + "Search for longer, or change the week: the risk of a plan says what would help.";
    }

    /// <summary>
    /// For each plan of an offer: its wages, what they buy beside the plan before it, and what is unsafe in it.
    /// </summary>
    public IEnumerable<IReadOnlyList<string>> Prices(CertaintyOffer offer) => offer.Plans.Select((plan, index) =>
    {
        var (wages, holds) = (Money.Of(plan.Cost, week.Currency), $"{Percent(plan.Chance.Holds)} of simulated weeks");
        var price = (index, offer.Plans.Count) switch
        {
            (0, 1) => $"{wages} in wages: the plan holds in {holds}. No surer plan was found, and no cheaper one.",
            (0, _) => $"{wages} in wages: the plan holds in {holds}. This is the cheapest.",
            _ => $"{Money.Of(plan.Cost - offer.Plans[index - 1].Cost, week.Currency)} more, {wages} in wages: "
                + $"the plan holds in {holds}."
                + (index == offer.Plans.Count - 1 ? " This is the surest." : ""),
        };
        return (IReadOnlyList<string>)(plan.Chance.IsLeftHalfSecured() ? [price, .. HalfSecured(plan.Chance)] : [price]);
    });

    /// <summary>
    /// Rows of a table of options: the chance of each, its interval, and the chance that nothing is left half-secured. No rows
    /// where the chances were not measured.
    /// </summary>
    public static IEnumerable<(string Head, IEnumerable<string> Cells)> OptionRows(IReadOnlyList<OfferedOption> options) =>
        options.All(option => option.Chance is null) ? [] :
    [
        ("Holds, of simulated weeks", options.Select(option => option.Chance is { } chance ? Percent(chance.Holds) : "")),
        ("95 % interval", options.Select(option => option.Chance is { } chance ? Interval(chance.Holds) : "")),
        ("Nothing half-secured", options.Select(option => option.Chance is { } chance ? Percent(chance.Secured) : "")),
    ];

    /// <summary>For example "81.2 %".</summary>
    public static string Percent(EstimatedProbability probability) => $"{Tenths(100 * probability.Share)} %";

    /// <summary>For example "80.4 to 82.0 %".</summary>
    public static string Interval(EstimatedProbability probability) =>
        $"{Tenths(100 * probability.LowerLimit())} to {Tenths(100 * probability.UpperLimit())} %";

    private static string Tenths(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Number(int value) => value.ToString("N0", CultureInfo.InvariantCulture);
}
