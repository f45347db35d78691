using SetWeek.Domain.Checks;
using SetWeek.Domain.Closings;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Closings;

/// <summary>
/// In the week of these tests the wall is refitted in the night in which it is painted. Asha opened Monday, alone. The checks of
/// closing are common practice, no source, apart from those that name one.
/// </summary>
public sealed class ClosingTests
{
    private static readonly NightOpened Opening = new("r1", "monday", At(21, 20), "p1", ["p1"], "p1", ["exits", "first-aid"]);

    private static readonly NightClosed Closing = new("c1", "monday", At(23, 40), "p1", ["p1"],
        [.. StandardChecks.All.Closing.Select(check => new AnsweredCheck(check.Id, CheckResult.Good))], [], [], []);

    private static readonly WorkStarted Started = new("w1", "feature-wall.paint", 1, "monday", At(21, 45));

    private static readonly IWeekEvent[] Painted =
    [
        new WorkFinished("w2", "feature-wall.paint", 1, "monday", At(22, 15)),
        new WorkFinished("w3", "feature-wall.paint", 2, "monday", At(22, 45)),
    ];

    private static readonly WorkFinished Refitted = new("w4", "feature-wall.refit", 1, "monday", At(23, 15));

    /// <summary>The glossary's "secured", and what is begun besides: a frame that is half up does not wait for the morning either.</summary>
    [Fact]
    public void Work_is_half_secured_from_its_start_until_the_task_that_secures_it_is_done()
    {
        Assert.Empty(HalfSecuredTask.Of(WeekOf()));
        Assert.Equal("feature-wall.refit", Assert.Single(HalfSecuredTask.Of(WeekOf(Started))).Securing.Id);
        Assert.Single(HalfSecuredTask.Of(WeekOf(Painted)));
        Assert.Single(HalfSecuredTask.Of(WeekOf([.. Painted, new WorkReopened("w5", "feature-wall.paint", 2, At(23, 0))])));
        Assert.Single(HalfSecuredTask.Of(WeekOf([.. Painted, new WorkStarted("w6", "feature-wall.refit", 1, "monday", At(23, 0))])));
        Assert.Empty(HalfSecuredTask.Of(WeekOf([.. Painted, Refitted])));
        Assert.Empty(HalfSecuredTask.Of(WeekOf(new WorkBlocked("w7", "feature-wall.paint", 1, At(21, 45), "not-dry", null, null))));
        Assert.Single(HalfSecuredTask.Of(WeekOf(Started, new WorkBlocked("w7", "feature-wall.paint", 1, At(21, 55), "not-dry", null, null))));
    }

    [Fact]
    public void A_night_is_closed_when_everybody_is_out_and_everything_is_looked_at()
    {
        var closed = Assert.IsType<NightClosed>(Assert.Single(WeekOf(Opening).CloseNight(Closing).AsT0));
        Assert.Equal(("c1", 0, 0, 0), (closed.Report, closed.HalfSecured.Count, closed.ShutZones.Count, closed.NotClean.Count));
        Assert.Empty(WeekOf(Opening, Closing).CloseNight(Closing with { By = "p2" }).AsT0);
    }

    public static TheoryData<string, string> Refused => new()
    {
        { "not-opened", "not opened" }, { "still-inside", "somebody inside" }, { "still-inside", "came later" },
        { "unanswered", "a check unanswered" }, { "not-passed", "exits not clear" }, { "not-passed", "loose decoration" },
        { "half-secured", "half-secured" }, { "closed-already", "closed" }, { "unknown-zone", "another zone" },
        { "unknown-check", "another check" }, { "unknown-person", "a stranger out" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_night_is_not_closed_otherwise(string code, string what)
    {
        var (week, closing) = what switch
        {
            "not opened" => (WeekOf(), Closing),
            "somebody inside" => (WeekOf(Opening), Closing with { Out = [] }),
            "came later" => (WeekOf(Opening, new PersonCame("r2", "monday", "p2", At(22, 0))), Closing),
            "a check unanswered" => (WeekOf(Opening), Closing with { Answers = [.. Closing.Answers.Skip(1)] }),
            "exits not clear" => (WeekOf(Opening), Closing with { Answers = Failing("exits") }),
            "loose decoration" => (WeekOf(Opening), Closing with { Answers = Failing("loose-decoration") }),
            "half-secured" => (WeekOf([Opening, .. Painted]), Closing),
            "closed" => (WeekOf(Opening, Closing), Closing with { Report = "c2" }),
            "another zone" => (WeekOf(Opening), Closing with { ShutZones = ["roof"] }),
            "another check" => (WeekOf(Opening), Closing with { Answers = [.. Closing.Answers, new("roof", CheckResult.Good)] }),
            _ => (WeekOf(Opening), Closing with { Out = ["p1", "p9"] }),
        };
        Assert.Equal(code, week.CloseNight(closing).AsT1.Code);
    }

    [Fact]
    public void What_is_half_secured_is_told_in_words() => Assert.Equal(
        ["“Paint the wall” is begun or done, and “Refit the fixtures” is not done."],
        WeekOf([Opening, .. Painted]).CloseNight(Closing).AsT1.Because);

    [Theory]
    [InlineData(HalfSecuredDecision.ShutOff, "wall"), InlineData(HalfSecuredDecision.TakenDown, "")]
    public void With_a_decision_a_night_is_closed_and_what_stands_half_secured_is_shut_off(HalfSecuredDecision decision, string shut)
    {
        var closing = Closing with { HalfSecured = [new("feature-wall.refit", decision)] };
        var closed = Assert.IsType<NightClosed>(Assert.Single(WeekOf([Opening, .. Painted]).CloseNight(closing).AsT0));
        Assert.Equal(shut, string.Join(",", closed.ShutZones));
        Assert.Equal(["wall"], closed.NotClean);
        // A decision about what was secured meanwhile counts for nothing.
        Assert.Empty(((NightClosed)WeekOf([Opening, .. Painted, Refitted]).CloseNight(closing).AsT0[0]).HalfSecured);
    }

    [Theory]
    [InlineData("wall", false, "wall"), InlineData(null, false, "wall,floor"), InlineData("wall", true, "")]
    public void A_stop_that_nobody_has_lifted_shuts_its_zone_in_the_morning(string? zone, bool lifted, string shut)
    {
        IWeekEvent[] events = [Opening, new WorkStopped("s1", "monday", zone, At(22, 0)), .. lifted ? [new StopLifted("s1", "p1")] : Array.Empty<IWeekEvent>()];
        Assert.Equal(shut, string.Join(",", ((NightClosed)WeekOf(events).CloseNight(Closing).AsT0[0]).ShutZones));
    }

    [Fact]
    public void A_lead_may_keep_other_zones_shut_too() => Assert.Equal(["floor"],
        ((NightClosed)WeekOf(Opening).CloseNight(Closing with { ShutZones = ["floor"] }).AsT0[0]).ShutZones);

    [Fact]
    public void A_closing_is_corrected_and_not_repeated()
    {
        var corrected = Closing with { Report = "c2", At = At(23, 50), Corrects = "c1" };
        var closed = Assert.IsType<NightClosed>(Assert.Single(WeekOf(Opening, Closing).CloseNight(corrected).AsT0));
        Assert.Equal(("c2", "c1"), (closed.Report, closed.Corrects));
        Assert.Equal(At(23, 50), NightRecord.Of(WeekOf(Opening, Closing, closed), "monday").Closed!.At);
    }

    /// <summary>Ben's first stint is recorded without answers; of his second, one of two checks is answered.</summary>
    [Fact]
    public void Checks_that_nobody_has_signed_are_listed()
    {
        var week = new IWeekEvent[]
        {
            Opened with
            {
                Week = Opened.Week with
                {
                    Tasks = [.. Opened.Week.Tasks.Select(task => task with { Checks = ["No bare spot.", "No run."] })],
                },
            },
            Published, Opening, Painted[0], (WorkFinished)Painted[1] with { Checks = [new("No run.", CheckResult.Good)] },
        }.Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
        var sheet = NightSheets.Of(week, Crew, week.Week.Nights[0], NightMargins.Of(week, Crew, "monday"),
            NodaTime.Instant.FromUtc(2027, 3, 8, 23, 0));
        var unsigned = NightClosing.Of(week, Crew, sheet, new Dictionary<string, string>()).Unsigned;
        Assert.Equal(["101 No bare spot. No run.", "102 No bare spot."],
            unsigned.Select(work => $"{work.Number} {string.Join(" ", work.Checks)}"));
        Assert.Equal("Ben Marsh", Assert.Single(unsigned[0].People).Name);
        Assert.Single(week.CloseNight(Closing with { HalfSecured = [new("feature-wall.refit", HalfSecuredDecision.TakenDown)] }).AsT0);
    }

    [Fact]
    public void What_is_left_is_running_work_and_zones_that_are_not_clean()
    {
        var left = NightRemains.Of(WeekOf(Opening, Started), "monday");
        Assert.Equal("p1 feature-wall.paint wall",
            $"{Assert.Single(left.Inside)} {Assert.Single(left.Unfinished).Subject.Task} {Assert.Single(left.NotClean).Id}");
        var clean = NightRemains.Of(WeekOf(Started, new CleanDownFinished("w8", "wall", "monday", At(23, 30))), "monday");
        Assert.Empty(clean.NotClean);
        Assert.Empty(NightRemains.Of(WeekOf(Started), "tuesday").NotClean);
    }

    private static IReadOnlyList<AnsweredCheck> Failing(string check) =>
        [.. Closing.Answers.Select(answer => answer.Check == check ? answer with { Answer = CheckResult.NotGood } : answer)];

    private static StoreWeek WeekOf(params IWeekEvent[] events) => events.Prepend(Opened with
    {
        Week = Opened.Week with
        {
            Tasks = [.. Opened.Week.Tasks.Select(task => task.Id == "feature-wall.refit"
                ? task with { After = [new TaskPrecedence("feature-wall.paint") { SameNight = true }] } : task)],
        },
    }).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
}
