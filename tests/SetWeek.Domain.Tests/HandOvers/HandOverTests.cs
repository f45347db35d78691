using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.HandOvers;
using SetWeek.Domain.WalkThroughs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.HandOvers;

/// <summary>
/// A week with sign-off by name and time; open things are allowed and listed, and none of them may be one of safety. Common
/// practice, no source.
/// </summary>
public sealed class HandOverTests
{
    private static readonly Instant Now = Instant.FromUtc(2027, 3, 13, 0, 24);

    private static readonly SnagRaised Snag = new("s7", 1, "wall", null, null, "wall", null, new SnagOwner(SnagOwnerKind.Store),
        new LocalDate(2027, 3, 13), false, "p1", At(23, 0));

    private static readonly IWeekEvent[] Painted =
    [
        new WorkFinished("w2", "feature-wall.paint", 1, "monday", At(22, 15)),
        new WorkFinished("w3", "feature-wall.paint", 2, "monday", At(22, 45)),
    ];

    [Fact]
    public void A_week_that_was_looked_at_and_is_safe_is_accepted()
    {
        var accepted = Ready().HandOver("wren", Now).AsT0;
        Assert.Equal(("hand-over-1", Now, "wren", 0), (accepted.HandOver, accepted.At, accepted.By, accepted.OpenChecks.Count));
        Assert.Equal(Now, WeekFigures.Of(Ready(accepted)).HandedOver);
    }

    public static TheoryData<string, string> Hindered => new()
    {
        { "nobody looked", "Shop floor: 4 checks of safety are not looked at." },
        { "exits not good", "Shop floor, not good: “Ways out are free" },
        { "a stop", "Work in Feature wall is stopped as not safe" },
        { "half-secured", "“Paint the wall” is begun or done, and “Refit the fixtures” is not done." },
        { "a snag of safety", "Snag 1 could hurt somebody, and is not put right: Feature wall." },
        { "safety work left", "Safety work is not done: “Paint the wall”." },
    };

    [Theory]
    [MemberData(nameof(Hindered))]
    public void Nobody_accepts_a_week_in_which_somebody_could_be_hurt(string what, string because)
    {
        var week = what switch
        {
            "nobody looked" => WeekOf(null, [Published, .. Painted]),
            "exits not good" => Ready(new AreaLookedAt("b1", "floor", At(23, 30), "p1", [], [new("exits", CheckResult.NotGood)])),
            "a stop" => Ready(new WorkStopped("s1", "monday", "wall", At(23, 0))),
            "a snag of safety" => Ready(Snag with { Safety = true }),
            "half-secured" => Looked(WeekOf(task => task.Id == "feature-wall.refit"
                ? task with { After = [new TaskPrecedence("feature-wall.paint") { SameNight = true }] } : task, [Published, .. Painted])),
            _ => Looked(WeekOf(task => task with { Traits = [WeekTask.SafetyTrait] }, [Published])),
        };
        var refusal = week.HandOver("wren", Now).AsT1;
        Assert.Equal("not-safe", refusal.Code);
        Assert.Contains(refusal.Because, sentence => sentence.StartsWith(because, StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_open_and_hurts_nobody_is_accepted_open_and_listed()
    {
        var week = Ready(new AreaLookedAt("b1", "wall", At(23, 30), "p1", [], [new("light", CheckResult.NotGood)]));
        Assert.Equal([new OpenCheck("wall", "light")], week.HandOver("wren", Now).AsT0.OpenChecks);
        Assert.Equal("Feature wall", Assert.Single(HandOverState.Of(week).OpenChecks).ZoneName);
        Assert.Equal([1], Ready(Snag).HandOver("wren", Now).AsT0.Snags);
        Assert.Empty(Ready(Snag, new SnagFixed("s8", "s7", "p1", At(23, 30))).HandOver("wren", Now).AsT0.Snags);
    }

    [Fact]
    public void A_hand_over_is_withdrawn_and_the_week_can_be_accepted_again()
    {
        var accepted = Ready().HandOver("wren", Now).AsT0;
        Assert.Equal("handed-over-already", Ready(accepted).HandOver("wren", Now).AsT1.Code);
        Assert.Equal("not-handed-over", Ready().WithdrawHandOver("wren").AsT1.Code);
        var withdrawn = Ready(accepted).WithdrawHandOver("wren").AsT0;
        Assert.Equal(new HandOverWithdrawn("hand-over-1", "wren"), withdrawn);
        Assert.Null(WeekFigures.Of(Ready(accepted, withdrawn)).HandedOver);
        Assert.Equal("hand-over-2", Ready(accepted, withdrawn).HandOver("wren", Now).AsT0.HandOver);
    }

    [Fact]
    public void Without_a_published_plan_there_is_nothing_to_hand_over() =>
        Assert.Equal("nothing-published", Given().HandOver("wren", Now).AsT1.Code);

    [Fact]
    public void Head_office_reads_what_stays_shut_after_the_night_that_was_closed_last()
    {
        var closed = new NightClosed("c1", "monday", At(23, 40), "p1", [], [], [], ["wall"], ["wall"]);
        var figures = WeekFigures.Of(Given(closed, closed with { Report = "c2", Night = "tuesday", At = At(23, 50), ShutZones = [] }));
        Assert.Equal(("tuesday", 0, 1), (figures.LastClosed!.Night, figures.LastClosed.ShutZones.Count, figures.LastClosed.NotClean.Count));
        Assert.Null(WeekFigures.Of(Given()).LastClosed);
    }

    /// <summary>The painted wall, every check of every area passed.</summary>
    private static StoreWeek Ready(params IWeekEvent[] later) => later.Aggregate(Looked(WeekOf(null, [Published, .. Painted])),
        (week, e) => StoreWeek.Evolve(week, e)!);

    private static StoreWeek Looked(StoreWeek week) => week.Week.Store.Zones.Select(zone => new AreaLookedAt($"a-{zone.Id}", zone.Id,
            At(23, 20), "p1", [], [.. AreaChecks.Of(week, zone.Id).Select(check => new AnsweredCheck(check.Id, CheckResult.Good))]))
        .Aggregate(week, (looked, look) => StoreWeek.Evolve(looked, look)!);

    private static StoreWeek WeekOf(Func<WeekTask, WeekTask>? change, IReadOnlyList<IWeekEvent> events) => events.Prepend(Opened with
    {
        Week = Opened.Week with { Tasks = [.. Opened.Week.Tasks.Select(task => change?.Invoke(task) ?? task)] },
    }).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
}
