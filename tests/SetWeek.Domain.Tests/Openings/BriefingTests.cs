using SetWeek.Domain.Nights;
using SetWeek.Domain.Openings;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Openings;

public sealed class BriefingTests
{
    /// <summary>The order of trade: exits, first aid, the order of the night. Common practice, no source.</summary>
    [Fact]
    public void A_plain_night_has_what_is_said_every_night_and_nothing_else() =>
        Assert.Equal(["exits", "first-aid", "order"], Ids(WeekOf(Opened, Published)));

    [Fact]
    public void Whatever_is_so_tonight_is_said_too()
    {
        var opened = Opened with
        {
            Week = Opened.Week with
            {
                Nights = [Opened.Week.Nights[0] with { Bans = [new Ban("noisy", MondayOpens, MondayOpens.PlusHours(1))] },
                    Opened.Week.Nights[1]],
                Tasks = [.. Opened.Week.Tasks.Select(task => task.Id == "feature-wall.paint"
                    ? task with { Cautions = ["Air the room."], Traits = ["platform"] }
                    : task with { After = [new TaskPrecedence("feature-wall.paint") { SameNight = true }] })],
            },
        };
        var week = WeekOf(opened, Published, new WorkStopped("r1", "monday", "wall", At(21, 25)),
            new WorkStarted("r2", "feature-wall.paint", 1, "monday", At(21, 45)));
        var items = ItemsOf(week, changes: ["“Paint the wall” begins 22:00 and not 21:45."]);
        Assert.Equal(["exits", "first-aid", "order", "ladders", "stops", "half-secured", "bans", "cautions", "changes"],
            items.Select(item => item.Id));
        Assert.Equal(["Air the room."], items.Single(item => item.Id == "cautions").Details);
        Assert.Equal(["No “noisy” work from 21:30 to 22:30."], items.Single(item => item.Id == "bans").Details);
        Assert.Equal(["Feature wall, since 21:25."], items.Single(item => item.Id == "stops").Details);
        Assert.Contains("“Paint the wall” is begun or done, and “Refit the fixtures” is not done.",
            items.Single(item => item.Id == "half-secured").Details);
    }

    [Fact]
    public void An_item_is_said_if_the_opening_names_it()
    {
        var week = WeekOf(Opened, Published, new NightOpened("r1", "monday", At(21, 20), "p1", ["p1"], "p1", ["exits", "first-aid"]));
        Assert.Equal([true, true, false], ItemsOf(week).Select(item => item.Said));
    }

    /// <summary>
    /// The second plan: the first stint of paint begins later and is Asha's, the second goes to Tuesday, the clean-down stays; the
    /// cycle is new.
    /// </summary>
    [Fact]
    public void Changes_of_an_issue_are_told_for_a_night_without_addressing_anybody()
    {
        var monday = Worked.Nights[0];
        var now = Worked with
        {
            Nights =
            [
                monday with
                {
                    Work =
                    [
                        monday.Work[0] with { From = At(22, 0), To = At(22, 30), People = [new PlannedPerson("p1", "painting")] },
                        new PlannedWork { Task = "cycle.panel.lean", Stint = 1, Mode = 0, From = At(22, 0), To = At(23, 0) },
                        monday.Work[2],
                    ],
                },
                new PlannedNight { Night = "tuesday", Work = [monday.Work[1]] },
            ],
        };
        string[] expected =
        [
            "“Paint the wall” (part 1 of 2) begins 22:00 and not 21:45 and is done by Asha Rowan and not by Ben Marsh.",
            "“Fix the panel” is new, 22:00 to 23:00.",
            "“Paint the wall” (part 2 of 2) moves to the night of Tue 9 Mar.",
        ];
        Assert.Equal(expected, IssueChanges.Of(Given(), Crew, "monday", Worked, now));
        Assert.Equal(["“Paint the wall” (part 2 of 2) comes from the night of Mon 8 Mar, 22:15 to 22:45."],
            IssueChanges.Of(Given(), Crew, "tuesday", Worked, now));
        Assert.Empty(IssueChanges.Of(Given(), Crew, "monday", Worked, Worked));
        Assert.Equal(["“Fix the panel” is not done any more."],
            IssueChanges.Of(Given(), Crew, "monday", now, now with
            {
                Nights = [now.Nights[0] with { Work = [now.Nights[0].Work[0], now.Nights[0].Work[2]] }, now.Nights[1]],
            }));
    }

    private static IEnumerable<string> Ids(StoreWeek week) => ItemsOf(week).Select(item => item.Id);

    private static IReadOnlyList<BriefingItem> ItemsOf(StoreWeek week, IReadOnlyList<string>? changes = null) => Briefing.Of(week,
        NightSheets.Of(week, Crew, week.Week.Nights[0], NightMargins.Of(week, Crew, "monday"), At(21, 30).ToInstant()), changes ?? []);

    private static StoreWeek WeekOf(params IWeekEvent[] events) => events.Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
}
