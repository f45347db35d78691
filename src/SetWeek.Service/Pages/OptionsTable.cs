using SetWeek.Domain.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>The options of a re-plan side by side, each linked to its own page.</summary>
public static class OptionsTable
{
    /// <summary>Empty if there are fewer than two options.</summary>
    /// <param name="addressOf">The address of a plan, by its id.</param>
    /// <param name="showsPay">Whether the reader may see wages.</param>
    public static Html Of(Week week, CandidatePlan candidate, Func<string, string> addressOf, bool showsPay)
    {
        var options = candidate.Options;
        if (options.Count < 2) return Html.None;
        var words = new GoalLabels(week);
        var heads = options.Select(option => Html.Of($"<th scope=\"col\">{Name(candidate, option, addressOf)}</th>"));
        var goals = options[0].Costs.Index().Where(cost => showsPay || cost.Item.Goal != GoalId.Cost)
            .Select(cost => Row(GoalLabels.Name(cost.Item.Goal),
                options.Select(option => words.Value(cost.Item.Goal, option.Costs[cost.Index].Value))));
        return Html.Of($"""
            <section class="options" aria-label="Options">
            <table>
            <caption>The options to choose from</caption>
            <thead><tr><td></td>{heads}</tr></thead>
            <tbody>
            {goals}
            {ChanceSentences.OptionRows(options).Select(row => Row(row.Head, row.Cells))}
            {Row("Shifts changed", options.Select(option => $"{option.Shifts}"))}
            {Row("Work moved to another night", options.Select(option => $"{option.Moved}"))}
            {Row("People to tell", options.Select(option => $"{option.Told}"))}
            </tbody>
            </table>
            {options.Select(option => Html.Of($"<p><strong>{option.Name}.</strong> {option.Sentence}</p>"))}
            </section>
            """);
    }

    private static Html Name(CandidatePlan candidate, OfferedOption option, Func<string, string> addressOf) =>
        option.PlanId == candidate.Id ? Html.Of($"{option.Name} (this page)")
        : Html.Of($"<a href=\"{addressOf(option.PlanId)}\">{option.Name}</a>");

    private static Html Row(string head, IEnumerable<string> cells) =>
        Html.Of($"<tr><th scope=\"row\">{head}</th>{cells.Select(cell => Html.Of($"<td>{cell}</td>"))}</tr>");
}
