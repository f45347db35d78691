using System.Diagnostics.CodeAnalysis;
using System.Net;
using System.Text.RegularExpressions;
using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Tests.Pages.Charts;
using static SetWeek.Service.Tests.Pages.Charts.ChartWeek;

namespace SetWeek.Service.Tests.Pages.Weeks;

/// <summary>The page of the week as a function of its model.</summary>
public sealed class WeekPageTests
{
    private static readonly NightNotes Notes = new(
        new Dictionary<WorkKey, PieceNote>
        {
            [new("clear", 1)] = new(101, At(27, 22, 18), IsTight: true, [102], IsChanged: false),
            [new("bed", 1)] = new(102, At(27, 22, 30), IsTight: true, [], IsChanged: true),
            [new("paint", 1)] = new(103, At(28, 1, 30), IsTight: false, [], IsChanged: false),
        }, new HashSet<string> { "p2" }, new Dictionary<string, OffsetDateTime> { ["p2"] = At(28, 0, 45) }, HasMargins: true);

    [Fact]
    public async Task Each_piece_says_its_number_how_late_it_may_start_and_what_it_frees()
    {
        var page = await Page(Spring, Planned, new() { ["sat"] = Notes });
        Assert.Contains("No. 101, Show window: Asha Rowan (dressing), Ben Marsh (dressing)", page);
        // In a night with a clock change every time has its offset.
        Assert.Contains("It starts no later than 22:18 (+00:00): 3 min in hand. Frees 102.", page);
        Assert.Contains("It starts as written: nothing is in hand. Changed in this issue.", page);
        Assert.Contains("It starts no later than 01:30 (+00:00).", page);
        Assert.Contains("Ben Marsh</bdi>, home by 00:45 (+00:00), changed in this issue", page);
    }

    /// <summary>
    /// Saturday closes at 06:00 and its last work ends at 03:00, both by summer time; Sunday closes at 02:00, and its work ends at
    /// midnight. The paint dries for 20 hours from 02:30.
    /// </summary>
    [Fact]
    public async Task A_night_says_what_is_in_hand_before_closing_up_and_what_dries()
    {
        Assert.Equal((180, 120), (NightEnd.MinutesInHand(Spring, Saturday), NightEnd.MinutesInHand(Spring, Sunday)));
        var closing = Spring with { Rules = new RuleSet { ClosingMinutes = 15 } };
        Assert.Equal(165, NightEnd.MinutesInHand(closing, Saturday));
        Assert.Null(NightEnd.MinutesInHand(Spring, Sunday with { Work = [] }));
        Assert.Equal(["Paint the wall, to Sunday 22:30"], NightEnd.Dries(Spring, Planned, Saturday));
        Assert.Empty(NightEnd.Dries(Spring, Planned, Sunday));
        var quick = Spring with { Tasks = [.. Spring.Tasks.Select(task => task with
            { After = [.. task.After.Select(link => link with { DryMinutes = 30 })] })] };
        Assert.Empty(NightEnd.Dries(quick, Planned, Saturday)); // dry when the last work ends
        var page = await Page(Spring, Planned, new() { ["sat"] = Notes });
        Assert.Contains("<td data-l=\"In hand:\">180 min</td>", page);
        Assert.Contains("<td class=\"names\" data-l=\"Dries:\">Paint the wall, to Sunday 22:30</td>", page);
        Assert.Contains("<td class=\"names\" data-l=\"Dries:\">nothing</td>", page);
    }

    [Fact]
    public void A_bar_has_the_number_and_the_marks_of_its_piece()
    {
        var bars = NightLayout.Of(Spring, Planned, Saturday, Notes).ByPerson.SelectMany(lane => lane.Bars).DistinctBy(bar => bar.Work)
            .ToDictionary(bar => bar.Name);
        Assert.Equal((true, false), (bars["101 Clear the window"].IsTight, bars["101 Clear the window"].IsChanged));
        Assert.Equal((true, true), (bars["102 Lay the window bed"].IsTight, bars["102 Lay the window bed"].IsChanged));
        Assert.EndsWith("Five minutes in hand or fewer. Changed in this issue.", bars["102 Lay the window bed"].Title);
        Assert.Equal((false, false), (bars["103 Paint the wall"].IsTight, bars["103 Paint the wall"].IsChanged));
        Assert.Contains("Sort the stock", bars.Keys); // it has no note
    }

    [Fact]
    public async Task The_marks_of_the_chart_are_drawn_and_explained()
    {
        var page = await Page(Spring, Planned, new() { ["sat"] = Notes });
        // By person: two people clear, one lays the bed. By zone: each once.
        Assert.Equal(3 + 2, Drawn("tight"));
        Assert.Equal(1 + 1, Drawn("chg"));
        Assert.Contains("five minutes in hand or fewer", page);
        int Drawn(string look) => Regex.Matches(page, $"<path class=\"{look}\" d=\"([^\"]*)\"")
            .Sum(path => path.Groups[1].Value.Count(part => part == 'M'));
    }

    /// <summary>The limits of a week (docs/formats.md): 60 people, 21 nights, 500 tasks, and names without a space.</summary>
    [Fact]
    public async Task The_largest_week_is_a_page_of_one_night_with_links_to_the_others()
    {
        var (week, nights) = Largest();
        var shown = ShownNights.Of(week, nights, "n7", week.Launch.PlusDays(-40));
        Assert.Equal(["n7"], shown.InFull.Select(night => night.Night));
        var page = await PageRenderer.Render<WeekPage, WeekPage.Sheet>(
            new("First Rain", week, PlanOf(week, nights), "published", ShowsPay: false) { Shown = shown });
        Assert.InRange(page.Length, 10_000, 1_000_000);
        foreach (var night in nights) Assert.Contains($"href=\"?night={night.Night}#{night.Night}\"", page);
        Assert.Single(Regex.Matches(page, "<section class=\"night\""));
        Assert.Contains("<ol class=\"run far\">", page); // after the shifts of sixty people
    }

    [Theory]
    [InlineData(null, "n2")] // the first night has closed
    [InlineData("n5", "n5")]
    [InlineData("no-such", "n2")]
    public void A_large_week_begins_with_the_night_asked_for_or_the_next(string? asked, string expected)
    {
        var (week, nights) = Largest();
        Assert.Equal([expected],
            ShownNights.Of(week, nights, asked, week.Nights[0].Closes).InFull.Select(night => night.Night));
    }

    /// <summary>Some ninety pieces: one night at a time, and all of them for whoever asks; not so with five hundred.</summary>
    [Fact]
    public void A_week_of_a_hundred_pieces_is_shown_whole_if_the_reader_asks()
    {
        var (week, nights) = Largest();
        Assert.Equal((1, true), (ShownNights.Of(week, nights[..4], null, week.Launch).InFull.Count,
            ShownNights.Of(week, nights[..4], null, week.Launch).HasAll));
        Assert.Equal(4, ShownNights.Of(week, nights[..4], "all", week.Launch).InFull.Count);
        Assert.Single(ShownNights.Of(week, nights, "all", week.Launch).InFull);
    }

    [Fact]
    public void A_small_week_is_shown_whole()
    {
        var shown = ShownNights.Of(Spring, Planned, "sun", Spring.Launch);
        Assert.Equal((2, false, "#sun"), (shown.InFull.Count, shown.IsCut, shown.AddressOf("sun")));
    }

    [SuppressMessage("Globalization", "CA1303", Justification = "Text from right to left is what is tested.")]
    internal static (Week Week, PlannedNight[] Nights) Largest()
    {
        var opens = new LocalDateTime(2027, 3, 1, 20, 0);
        Night[] nights = [.. Enumerable.Range(1, 21).Select(day =>
            new Night($"n{day}", opens.PlusDays(day), opens.PlusDays(day).PlusHours(8)))];
        var week = Spring with
        {
            Nights = nights, Launch = opens.PlusDays(23),
            Crew = [.. Enumerable.Range(0, 60).Select(index =>
                Member($"c{index}", index % 2 == 0 ? $"{new string('W', 120)}{index}" : $"נועה־מריה {index}"))],
            Tasks = [.. Enumerable.Range(0, 500).Select(index => new WeekTask
            {
                Id = $"t{index}", Name = $"Piece {index} {new string('m', 100)}", Display = "all", Zone = "window", Modes = [new(60, [])],
                Steps = ["Lift it."], Cautions = ["Mind the edge."],
            })],
        };
        return (week, [.. nights.Index().Select(night => new PlannedNight
        {
            Night = night.Item.Id,
            Shifts = [.. week.Crew.Select(member => new PlannedShift(member.Id, At(night.Item.Opens), At(night.Item.Closes)))],
            Work = [.. Enumerable.Range(0, 500).Where(task => task % 21 == night.Index).Select(task => Piece($"t{task}",
                At(night.Item.Opens.PlusMinutes(task % 8 * 60)), At(night.Item.Opens.PlusMinutes(task % 8 * 60 + 60)),
                $"c{task % 60}"))],
        })]);
    }

    private static OffsetDateTime At(LocalDateTime time) => time.WithOffset(Offset.Zero);

    private static OffsetDateTime At(int day, int hour, int minute) => ChartWeek.At(day, hour, minute);

    private static Plan PlanOf(Week week, IReadOnlyList<PlannedNight> nights) =>
        new() { Week = week.Id, Status = PlanStatus.Feasible, Nights = nights };

    private static async Task<string> Page(Week week, IReadOnlyList<PlannedNight> nights, Dictionary<string, NightNotes> notes) =>
        WebUtility.HtmlDecode(await PageRenderer.Render<WeekPage, WeekPage.Sheet>(
            new("First Rain", week, PlanOf(week, nights), "published", ShowsPay: false) { Notes = notes }));
}
