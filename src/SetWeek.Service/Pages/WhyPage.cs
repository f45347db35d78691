using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// Why a stint is where it is, as a page: the sentences of the terminal, and a table of who else could be on it.
/// </summary>
public static class WhyPage
{
    public static string Of(string title, Week week, Why why)
    {
        var words = new WhySentences(week);
        return PageFrame.Of($"{title}: why", Html.Of($"""
            <header>
            <h1>{title}</h1>
            <p><strong>{words.Heading(why)}</strong></p>
            </header>
            <main>
            {Sentences(WhySentences.HereHeading, words.Here(why.Here))}
            {(why.AtAll is { } all ? Sentences(WhySentences.AtAllHeading, words.AtAll(why, all)) : Html.None)}
            {why.People.Select(person => Others(words, person))}
            </main>
            """));
    }

    private static Html Sentences(string heading, IEnumerable<string> sentences) =>
        Html.Of($"<section><h2>{heading}</h2><ul>{sentences.Select(sentence => Html.Of($"<li>{sentence}</li>"))}</ul></section>");

    private static Html Others(WhySentences words, AssignmentExplanation person)
    {
        Substitute[] skilled = [.. WhySentences.Skilled(person)];
        return Html.Of($"""
            <section><h2>{words.PersonHeading(person)}</h2>
            {(skilled.Length > 0 ? Table(words, skilled) : Html.None)}
            {(words.Unskilled(person) is { } unskilled ? Html.Of($"<p>{unskilled}</p>") : Html.None)}
            </section>
            """);
    }

    private static Html Table(WhySentences words, IEnumerable<Substitute> others) => Html.Of($"""
        <table>
        <thead><tr><th scope="col">Who</th><th scope="col">An exchange and nothing else</th>
        <th scope="col">Shifts and people arranged anew</th></tr></thead>
        <tbody>
        {others.Select(other => Row(words, other))}
        </tbody>
        </table>
        """);

    private static Html Row(WhySentences words, Substitute other) => Html.Of($"""
        <tr><th scope="row">{words.Name(other.Person)}</th>
        <td>{WhySentences.Obstacles(other)}</td><td>{words.Cost(other)}</td></tr>
        """);
}
