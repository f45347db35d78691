using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// The risk report of a plan as a page, with the same sentences as on the command line.
/// </summary>
public static class RiskPage
{
    public static string Of(string title, Week week, RiskReport risk)
    {
        var words = new RiskSentences(week);
        return PageFrame.Of($"{title}: risk", Html.Of($"""
            <header>
            <h1>{title}</h1>
            <p><strong>How surely does the plan hold?</strong></p>
            {words.Chances(risk).Select(sentence => Html.Of($"<p>{sentence}</p>"))}
            <p>{RiskSentences.Caution(risk)}</p>
            </header>
            <main>
            <section><h2>Nights</h2>
            <table>
            <thead><tr><th scope="col">Night</th><th scope="col">Ends on time (%)</th><th scope="col">Median end</th>
            <th scope="col">End in 80 %</th><th scope="col">Mean overrun</th></tr></thead>
            <tbody>
            {risk.Nights.Select(night => Row(words, night))}
            </tbody>
            </table></section>
            {Drivers(words, risk)}
            {Helps(words, risk)}
            </main>
            """));
    }

    private static Html Row(RiskSentences words, NightRisk night) => Html.Of($"""
        <tr><th scope="row">{words.Night(night.Night)}</th>
        <td>{RiskSentences.OfHundred(night.InWindow.Share)}</td><td>{RiskSentences.Time(night.P50)}</td>
        <td>{RiskSentences.Time(night.P80)}</td><td>{RiskSentences.Minutes(night.OverMinutes)}</td></tr>
        """);

    private static Html Drivers(RiskSentences words, RiskReport risk) =>
        RiskSentences.Drivers(risk) is not { Count: > 0 } drivers ? Html.None
        : Html.Of($"""
        <section><h2>What drives the risk</h2>
        <table>
        <thead><tr><th scope="col">Task</th><th scope="col">On the chain that ends last (%)</th>
        <th scope="col">On the chain that ends its night (%)</th><th scope="col">Put off (%)</th></tr></thead>
        <tbody>
        {drivers.Select(task => Html.Of($"""
            <tr><th scope="row">{words.Task(task.Task)}</th><td>{RiskSentences.OfHundred(task.Criticality)}</td>
            <td>{RiskSentences.OfHundred(task.NightCriticality)}</td><td>{RiskSentences.OfHundred(task.PutOff)}</td></tr>
            """))}
        </tbody>
        </table></section>
        """);

    private static Html Helps(RiskSentences words, RiskReport risk) => risk.Helps is null ? Html.None : Html.Of($"""
        <section><h2>What would help</h2><ul>
        {words.Helps(risk).Select(sentence => Html.Of($"<li>{sentence}</li>"))}
        </ul></section>
        """);
}
