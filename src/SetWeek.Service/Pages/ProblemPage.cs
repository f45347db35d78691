namespace SetWeek.Service.Pages;

/// <summary>A refusal as a page, for somebody who opened an address in a browser.</summary>
public static class ProblemPage
{
    /// <param name="details">The reasons or the faults, a sentence each.</param>
    public static string Of(string title, string sentence, IReadOnlyList<string> details) => PageFrame.Of(title, Html.Of($"""
        <h1>{title}</h1>
        <p>{sentence}</p>
        {(details.Count == 0 ? Html.None : Html.Of($"<ul>{details.Select(detail => Html.Of($"<li>{detail}</li>"))}</ul>"))}
        <p><a href="/">About this service</a></p>
        """));
}
