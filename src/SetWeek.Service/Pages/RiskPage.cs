using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// How likely a plan is to hold, as a page: the sentences of the terminal, the nights, what drives it and what would help.
/// </summary>
public static class RiskPage
{
    public static string Of(string title, Week week, RiskReport risk)
    {
        var words = new RiskSentences(week);
        return PageFrame.Of($"{title}: how likely it is to hold", Html.Of($"""
            <header>
            <h1>{title}</h1>
            <p><strong>How likely the plan is to hold.</strong></p>
            {words.Chances(risk).Select(sentence => Html.Of($"<p>{sentence}</p>"))}
            <p>{RiskSentences.Caution(risk)}</p>
            </header>
            <main>
            <section><h2>Nights</h2>
            <table>
            <thead><tr><th scope="col">Night</th><th scope="col">Ends in its window, of 100</th><th scope="col">Half end by</th>
            <th scope="col">80 of 100 end by</th><th scope="col">Over its end</th></tr></thead>
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
        <section><h2>What drives it</h2>
        <table>
        <thead><tr><th scope="col">Task</th><th scope="col">On the chain that ends last, of 100</th>
        <th scope="col">That ends its night</th><th scope="col">Put off</th></tr></thead>
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
