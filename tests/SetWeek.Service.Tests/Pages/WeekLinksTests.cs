using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>A page offers nobody a link that is refused to them.</summary>
[Collection(ServiceCollection.Name)]
public sealed class WeekLinksTests(RunningService service)
{
    [Theory]
    [InlineData(Role.Lead)]
    [InlineData(Role.Crew)]
    [InlineData(Role.Region)]
    [InlineData(Role.HeadOffice)]
    [InlineData(Role.Engineer)]
    public async Task Every_link_of_a_week_and_a_night_opens(Role role)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        var reader = chain.As("p1", role, "harbour-street");
        foreach (var page in new[] { $"{Address}/plan", $"{Address}/nights/monday/sheet" })
        {
            var text = (await ExpectStatus(200, reader.Get(page, ("Accept", "text/html")))).Text;
            var links = Markup.Of(text).Descendants("a").Select(link => (string)link.Attribute("href")!)
                .Where(link => !link.StartsWith('#')).Select(link => new Uri(new Uri($"http://here{page}"), link).PathAndQuery)
                .Distinct().ToList();
            Assert.Contains($"{Address}/kits", links);
            foreach (var link in links)
                Assert.True((await reader.Get(link, ("Accept", "text/html, */*;q=0.5"))).Status is 200 or 303,
                    $"{role}, {page}: {link}");
        }
    }
}
