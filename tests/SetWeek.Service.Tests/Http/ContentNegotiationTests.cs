using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Tests.Http;

/// <summary>RFC 9110, section 12.5.1: which of three formats an Accept header chooses.</summary>
public sealed class ContentNegotiationTests
{
    [Theory]
    [InlineData("", "application/json")]
    [InlineData("*/*", "application/json")]
    [InlineData("text/html", "text/html")]
    [InlineData("TEXT/HTML", "text/html")]
    [InlineData("text/*", "text/html")]
    [InlineData("text/csv, text/html", "text/html")]
    [InlineData("text/csv, text/html;q=0.5", "text/csv")]
    [InlineData("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "text/html")]
    [InlineData("application/json;q=0, */*;q=0.1", "text/html")]
    [InlineData("text/*;q=0.9, text/html;q=0.1, application/json;q=0.5", "text/csv")]
    [InlineData("application/json;charset=utf-8", "application/json")]
    [InlineData("image/png", null)]
    [InlineData("application/json;q=0", null)]
    [InlineData("nonsense", null)]
    public void The_most_specific_range_weighs_a_format_and_the_highest_weight_wins(string accept, string? expected) =>
        Assert.Equal(expected, ContentNegotiation.Preferred([accept], ["application/json", "text/html", "text/csv"]));
}
