using System.Text;
using System.Text.Json.Nodes;
using NodaTime;
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
    [InlineData("name=a&name=b", """{"name":["a","b"]}""")] // said twice: the slice refuses the list
    [InlineData("seconds:number=10&seconds:number=10", """{"seconds":[10,10]}""")]
    [InlineData("at:now=2027-10-30T21:00:00Z&at:now=", """{"at":["2027-10-30T21:00:00Z","2027-10-30T22:41:07Z"]}""")]
    [InlineData("name=&name=b", """{"name":"b"}""")] // an empty one says nothing
    [InlineData("change:json=[{\"kind\":\"ban\"}]", """{"change":[{"kind":"ban"}]}""")]
    [InlineData("change:json=[", """{"change":"["}""")]
    [InlineData("change:json=\"\\ud800\"", """{"change":"\u0022\\ud800\u0022"}""")] // half a character: the text as it was typed
    [InlineData("change:json={\"\\ud800\":1}", """{"change":"{\u0022\\ud800\u0022:1}"}""")]
    [InlineData("a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a=1", """{"a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a":"1"}""")] // too many levels
    [InlineData("a=1&a.b=2&a.c=3", """{"a":["1",{"b":"2","c":"3"}]}""")] // and so it does if two fields contradict each other
    [InlineData("a.b=2&a=1&a.c=3", """{"a":[{"b":"2","c":"3"},"1"]}""")]
    [InlineData("people:list=p1&people[0].id=p2", """{"people":[["p1"],[{"id":"p2"}]]}""")]
    [InlineData("lines[1].item=form&lines[0].item=vase&lines[0].received:number=4&id=r1",
        """{"id":"r1","lines":[{"item":"vase","received":4},{"item":"form"}]}""")]
    [InlineData("reports[0].id=r1&reports[0].at:row=&reports[1].id=r2&reports[1].at:row=22:10&:night=2027-03-08T16:00 Etc/UTC",
        """{"reports":[{"id":"r2","at":"2027-03-08T22:10:00Z"}]}""")] // a row of which nothing is said is left out
    [InlineData("lines[0].item=form&lines[0].answer:row=&lines[0].received:row-number=3&lines[1].answer:row=&lines[1].received:row-number=",
        """{"lines":[{"item":"form","received":3}]}""")] // a number keeps its row
    [InlineData("answers[0].check=exits&answers[0].answer:row=&answers[0].why:row-text=Shut&answers[1].check=light&answers[1].answer:row=",
        """{"answers":[{"check":"exits","why":"Shut"}]}""")] // and so does a text
    [InlineData("modes[0].minutes:number=30&modes[0].roles[1].skill:row=&modes[0].roles[1].people:number=2&modes[0].roles[0].skill:row=rigging",
        """{"modes":[{"minutes":30,"roles":[{"skill":"rigging"}]}]}""")] // rows of rows
    [InlineData("bans:list=&bans[0].trait:row=", """{"bans":[]}""")] // a list of which every row is left out
    [InlineData("d[10000].e=1", """{"d[10000]":{"e":"1"}}""")] // no row: the slice says so
    [InlineData("steps:lines=Mask it. \n\n Paint it.", """{"steps":["Mask it.","Paint it."]}""")]
    [InlineData("steps:lines=", "{}")]
    [InlineData("steps:lines=Mask it.&steps:lines=Paint it.", """{"steps":["Mask it.","Paint it."]}""")]
    [InlineData("rows[0].at:row=&rows[0].at:row=22:10", """{"rows":[{"at":"22:10"}]}""")] // the row is said, in its second field
    [InlineData("skills.cold%2Ework%3A1:number=2", """{"skills":{"cold.work:1":2}}""")]
    [InlineData("skills.{:skill}:number=2&:skill= a.b {1} ", """{"skills":{"a.b {1}":2}}""")] // named by another field
    [InlineData("skills.{:skill}:number=2&:skill= &skills.{:other}:number=1", "{}")] // or by none
    [InlineData("name=x&:body={\"id\": 1}", """{"id": 1}""")] // the whole body, as it is
    [InlineData(":then=/weeks&:if-match=\"3\"&:unknown=x", "{}")]
    public void Fields_become_members(string form, string json) =>
        Assert.Equal(json, Encoding.UTF8.GetString(Post(form).Body.Span));

    /// <summary>Lists of lists would be deeper than JSON is written.</summary>
    [Fact]
    public void A_member_that_is_said_by_very_many_fields_is_one_list()
    {
        var form = string.Join('&', Enumerable.Range(0, 1000).Select(kind => $"a:k{kind}=1&a:k{kind}=2"));
        Assert.Equal(2000, JsonNode.Parse(Post(form).Body.Span)!["a"]!.AsArray().Count);
    }

    /// <summary>No page sends both. The slice refuses the list, and nothing is dropped.</summary>
    [Fact]
    public void A_photograph_beside_a_list_of_photographs_is_one_list_too_many()
    {
        var post = FormPost.Of([KeyValuePair.Create("photos:list", (IReadOnlyList<string>)["a"])], () => default,
            new FormPhoto("b", new byte[1]) { IsOfPage = true });
        Assert.Equal("""{"photos":[["a"],["b"]]}""", Encoding.UTF8.GetString(post.Body.Span));
    }

    [Theory]
    [InlineData("/weeks/w/plan?x=1#monday", true)]
    [InlineData("//elsewhere.example", false)]
    [InlineData("/\\elsewhere.example", false)]
    [InlineData("https://elsewhere.example/", false)]
    [InlineData("weeks", false)]
    [InlineData("/weeks/%00/plan", false)]
    [InlineData("/weeks\nSet-Cookie: a", false)]
    public void The_next_page_is_one_of_this_service(string address, bool isAccepted) =>
        Assert.Equal(isAccepted ? address : null, Post($":then={address}").Then);

    /// <summary>Received at 22:41 UTC; the night of the clock change in London, when 01:30 comes twice (tz database).</summary>
    [Theory]
    [InlineData("at:now=", "2027-10-30T22:41:07Z")]
    [InlineData("at:now=2027-10-30T21:00:00+01:00", "2027-10-30T21:00:00+01:00")]
    [InlineData("at:now=21:05&:night=2027-10-30T16:00 Europe/London", "2027-10-30T21:05:00+01:00")]
    [InlineData("at:now=0:10&:night=2027-10-30T16:00 Europe/London", "2027-10-31T00:10:00+01:00")]
    [InlineData("at:now=01:30&:night=2027-10-30T16:00 Europe/London", "2027-10-31T01:30:00+01:00")]
    [InlineData("at:now=02:30&:night=2027-10-30T16:00 Europe/London", "2027-10-31T02:30:00Z")]
    [InlineData("at:time=21:05&:night=2027-10-30T16:00 Europe/London", "2027-10-30T21:05:00+01:00")]
    [InlineData("at:time=", null)]
    [InlineData("at:now=21:05", "21:05")] // the slice says that it needs a time
    [InlineData("at:now=25:00&:night=2027-10-30T16:00 Europe/London", "25:00")]
    [InlineData("at:now=21:05&:night=2027-10-30T16:00 Atlantis/Nowhere", "21:05")]
    public void The_service_fills_in_the_time_of_receipt_and_reads_a_time_of_the_night(string form, string? at) =>
        Assert.Equal(at, (string?)JsonNode.Parse(Post(form).Body.Span)!["at"]);

    [Fact]
    public void A_form_that_is_sent_again_is_known_although_its_time_of_receipt_is_another() =>
        Assert.Equal("""{"id":"r1","at":""}""", Encoding.UTF8.GetString(Post("id=r1&at:now=").Sent.Span));

    private static FormPost Post(string form) => FormPost.Of([.. form.Split('&').Select(field => field.Split('=', 2))
        .GroupBy(field => field[0], field => field[1])
        .Select(field => KeyValuePair.Create(field.Key, (IReadOnlyList<string>)[.. field]))],
        () => Instant.FromUtc(2027, 10, 30, 22, 41, 7));
}
