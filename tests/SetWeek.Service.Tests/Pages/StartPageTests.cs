using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>The start page leads everybody on to what they begin with.</summary>
[Collection(ServiceCollection.Name)]
public sealed class StartPageTests(RunningService service)
{
    [Theory]
    [InlineData("p2", Role.Lead, "Signed in: Ben Marsh, lead", $"href=\"{Address}/plan\">First Rain, Harbour Street</a>")]
    [InlineData("p3", Role.Crew, "Signed in: Cleo Strand, crew", $"href=\"{Address}/tonight\">First Rain, Harbour Street, tonight</a>")]
    [InlineData("hana", Role.HeadOffice, "Signed in: hana, head office", "href=\"/stores\"")]
    [InlineData("reg", Role.Region, "Signed in: reg, region", "href=\"/stores\"")]
    public async Task A_reader_is_named_and_sees_where_to_go(string person, Role role, string named, string link)
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var browser = await chain.SignedIn(person, role, role == Role.HeadOffice ? [] : ["harbour-street"]);
        var page = WebUtility.HtmlDecode((await browser.Api.Get("/", ("Accept", "text/html"))).Text);
        Assert.Contains(named, page);
        Assert.Contains(link, page);
    }

    [Fact]
    public async Task Nobody_sees_the_weeks_of_other_stores()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var browser = await chain.SignedIn("p2", Role.Lead, "mill-lane");
        var page = (await browser.Api.Get("/", ("Accept", "text/html"))).Text;
        Assert.DoesNotContain(Id, page);
        Assert.Contains("There is no set week in your stores yet.", page);
    }
}
