using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Tests.Pages;

/// <summary>A plan says which zones its nights leave bare, and what that costs in trade.</summary>
public sealed class BareZoneTests
{
    private static readonly Week Week = new()
    {
        Id = "tiny", Currency = "GBP", Launch = new LocalDateTime(2027, 3, 10, 9, 0),
        Store = new Store
        {
            Id = "store", TimeZone = "Europe/London",
            Zones =
            [
                new("glass", "Glass & door", TradePerDay: 150_000), new("wall", "Back wall", TradePerDay: 60_050),
                new("stock", "Stock room"),
            ],
        },
        Nights =
        [
            new("mon", new LocalDateTime(2027, 3, 8, 20, 0), new LocalDateTime(2027, 3, 8, 23, 0)),
            new("tue", new LocalDateTime(2027, 3, 9, 20, 0), new LocalDateTime(2027, 3, 9, 23, 0)),
        ],
        Crew = [], Displays = [new("all", "All", DisplayCommitment.Must)], Rules = new RuleSet(),
        Tasks = [.. new[] { "glass", "wall", "stock" }.SelectMany(zone => new[]
        {
            TaskIn(zone, "strip") with { Empties = true },
            TaskIn(zone, "hang") with { Fills = true },
        })],
    };

    private static readonly Plan Plan = new()
    {
        Week = "tiny", Status = PlanStatus.Feasible,
        Nights = [NightOf("mon", 8, "strip"), NightOf("tue", 9, "hang")],
    };

    [Fact]
    public void The_zones_with_trade_are_named_with_what_they_sell_after_the_night_that_leaves_them_bare() => Assert.Equal(
        new Dictionary<string, string>
        {
            ["mon"] = "Bare when the store opens after this night, with what it sells in a day: "
                + "Glass & door (£1,500.00) and Back wall (£600.50).",
        },
        BareSentences.ByNight(Week, Plan));

    [Fact]
    public async Task The_page_says_it_once()
    {
        var page = await PageRenderer.Render<WeekPage, WeekPage.Sheet>(
            new("First Rain", Week, Plan, "published", ShowsPay: true));
        Assert.Single(System.Net.WebUtility.HtmlDecode(page).Split("Glass & door (£1,500.00)")[1..]);
        Assert.Single(page.Split("Bare when the store opens")[1..]);
    }

    private static WeekTask TaskIn(string zone, string name) => new()
    {
        Id = $"{zone}.{name}", Name = name, Display = "all", Zone = zone, Modes = [new(60, [])],
    };

    /// <summary>A task of each zone, from 20:00 to 21:00.</summary>
    private static PlannedNight NightOf(string night, int day, string task)
    {
        var start = new LocalDateTime(2027, 3, day, 20, 0).WithOffset(Offset.Zero);
        return new PlannedNight
        {
            Night = night,
            Work = [.. Week.Store.Zones.Select(zone => new PlannedWork
            {
                Task = $"{zone.Id}.{task}", Stint = 1, Mode = 0, From = start, To = start.PlusHours(1),
            })],
        };
    }
}
