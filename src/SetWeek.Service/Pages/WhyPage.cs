using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// Explains as a page why a stint is not planned earlier, and who else could do it.
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
            {why.People.Select(person => Substitutes(words, person))}
            </main>
            """));
    }

    private static Html Sentences(string heading, IEnumerable<string> sentences) =>
        Html.Of($"<section><h2>{heading}</h2><ul>{sentences.Select(sentence => Html.Of($"<li>{sentence}</li>"))}</ul></section>");

    private static Html Substitutes(WhySentences words, AssignmentExplanation person)
    {
        Substitute[] skilled = [.. WhySentences.Skilled(person)];
        return Html.Of($"""
            <section><h2>{words.PersonHeading(person)}</h2>
            {(skilled.Length > 0 ? Table(words, skilled) : Html.None)}
            {(words.Unskilled(person) is { } unskilled ? Html.Of($"<p>{unskilled}</p>") : Html.None)}
            </section>
            """);
    }

    private static Html Table(WhySentences words, IEnumerable<Substitute> substitutes) => Html.Of($"""
        <table>
        <thead><tr><th scope="col">Person</th><th scope="col">Simple exchange</th>
        <th scope="col">With shifts and people rearranged</th></tr></thead>
        <tbody>
        {substitutes.Select(substitute => Row(words, substitute))}
        </tbody>
        </table>
        """);

    private static Html Row(WhySentences words, Substitute substitute) => Html.Of($"""
        <tr><th scope="row">{words.Name(substitute.Person)}</th>
        <td>{WhySentences.Obstacles(substitute)}</td><td>{words.Cost(substitute)}</td></tr>
        """);
}
