namespace SetWeek.Service.Pages;

/// <summary>What the service is, for somebody who opened its address in a browser.</summary>
public static class StartPage
{
    public static string Of(string name, string purpose, string description) => PageFrame.Of(name, Html.Of($"""
        <h1>{name}</h1>
        <p>{purpose}</p>
        <p>Programs use its HTTP API: <a href="{description}">its description (OpenAPI 3.1)</a>.
        Each request needs a bearer token.</p>
        """));
}
