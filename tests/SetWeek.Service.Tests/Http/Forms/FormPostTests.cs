using System.Text;
using SetWeek.Service.Http.Forms;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>A form of a page becomes the JSON that a program would send.</summary>
public sealed class FormPostTests
{
    [Theory]
    [InlineData("name=First Rain", """{"name":"First Rain"}""")]
    [InlineData("seconds:number=10", """{"seconds":10}""")]
    [InlineData("share:number=-0.5", """{"share":-0.5}""")]
    [InlineData("seconds:number=ten", """{"seconds":"ten"}""")] // the slice says "needs a number"
    [InlineData("seconds:number=01", """{"seconds":"01"}""")]
    [InlineData("keys:boolean=true", """{"keys":true}""")]
    [InlineData("from.night=monday&from.time=20:00", """{"from":{"night":"monday","time":"20:00"}}""")]
    [InlineData("people:list=p1&people:list=p2", """{"people":["p1","p2"]}""")]
    [InlineData("people:list=", """{"people":[]}""")]
    [InlineData("seconds:number=&name=", "{}")] // a field left empty is absent
    [InlineData("change:json=[{\"kind\":\"ban\"}]", """{"change":[{"kind":"ban"}]}""")]
    [InlineData("change:json=[", """{"change":"["}""")]
    [InlineData("a=1&a.b=2", """{"a":{"b":"2"}}""")]
    [InlineData(":then=/weeks&:if-match=\"3\"&:unknown=x", "{}")]
    public void Fields_become_members(string form, string json) =>
        Assert.Equal(json, Encoding.UTF8.GetString(Post(form).Body.Span));

    [Theory]
    [InlineData("/weeks/w/plan?x=1#monday", true)]
    [InlineData("//elsewhere.example", false)]
    [InlineData("/\\elsewhere.example", false)]
    [InlineData("https://elsewhere.example/", false)]
    [InlineData("weeks", false)]
    [InlineData("/weeks\nSet-Cookie: a", false)]
    public void The_next_page_is_one_of_this_service(string address, bool isAccepted) =>
        Assert.Equal(isAccepted ? address : null, Post($":then={address}").Then);

    private static FormPost Post(string form) => FormPost.Of(form.Split('&').Select(field => field.Split('=', 2))
        .GroupBy(field => field[0], field => field[1])
        .Select(field => KeyValuePair.Create(field.Key, (IReadOnlyList<string>)[.. field])));
}
