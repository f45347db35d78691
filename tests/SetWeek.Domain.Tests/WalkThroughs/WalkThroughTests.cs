using SetWeek.Domain.Checks;
using SetWeek.Domain.WalkThroughs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.WalkThroughs;

public sealed class WalkThroughTests
{
    private static readonly AreaLookedAt Look =
        new("a1", "floor", At(22, 0), "p1", ["p2"], [new("exits", CheckResult.Good), new("widths", CheckResult.Good, 940)]);

    /// <summary>The plan of the example has work in the wall alone.</summary>
    [Fact]
    public void Areas_come_in_the_order_of_the_store_and_an_area_without_displays_has_fewer_checks()
    {
        var walk = WalkThrough.Of(WeekOf(), Crew);
        Assert.Equal(["wall", "floor"], walk.Areas.Select(area => area.Zone));
        var dressed = StandardChecks.All.WalkThrough.Where(check => check.IsDressed).Select(check => check.Id).ToList();
        Assert.NotEmpty(dressed);
        Assert.All(dressed, check => Assert.Contains(check, IdsOf(walk, "wall")));
        Assert.All(dressed, check => Assert.DoesNotContain(check, IdsOf(walk, "floor")));
        Assert.Equal(StandardChecks.All.WalkThrough.Count - dressed.Count, walk.Areas[1].Unanswered);
    }

    [Fact]
    public void Checks_of_a_display_are_answered_together_and_those_of_safety_each_by_itself()
    {
        var own = AreaChecks.Of(WeekOf(), "wall").Where(check => check.Source is null).ToList();
        Assert.Equal(["Painted wall, as drawn."], own.Select(check => check.Sentence));
        Assert.Equal(["No bare spot.", "Edges are clean."], own[0].Details);
        Assert.False(own[0].IsSafety);

        var safe = AreaChecks.Of(WeekOf(WeekTask.SafetyTrait, "No bare spot."), "wall").Where(check => check.Source is null).ToList();
        Assert.Equal(["No bare spot.", "Edges are clean."], safe.Select(check => check.Sentence));
        Assert.All(safe, check => Assert.True(check.IsSafety && check.Details.SequenceEqual(["Paint the wall"])));
    }

    [Fact]
    public void An_answer_to_other_words_does_not_count()
    {
        var check = AreaChecks.Of(WeekOf(), "wall").Single(check => check.Source is null);
        var look = Look with { Zone = "wall", Answers = [new(check.Id, CheckResult.Good)] };
        Assert.Equal(CheckResult.Good, AnswerTo(WeekOf(look), "wall", check.Id));
        var revised = WeekOf(null, "No bare spot at all.", look);
        Assert.DoesNotContain(check.Id, IdsOf(WalkThrough.Of(revised, Crew), "wall"));
        Assert.Null(WalkThrough.Of(revised, Crew).Areas[0].Checks.Single(other => other.Check.Source is null).Answer);
        Assert.Equal("unknown-check", revised.LookAt(look with { Report = "a2" }).AsT1.Code);
    }

    [Fact]
    public void The_latest_answer_counts_in_every_order_of_arrival()
    {
        AreaLookedAt[] looks =
        [
            Look,
            Look with { Report = "a2", At = At(22, 10), By = "p2", With = [], Answers = [new("exits", CheckResult.NotGood)] },
            Look with { Report = "a3", At = At(22, 20), By = "p2", With = [], Answers = [new("widths", CheckResult.DoesNotApply)] },
        ];
        foreach (var order in new[] { "012", "021", "102", "120", "201", "210" })
        {
            var area = WalkThrough.Of(WeekOf([.. order.Select(index => looks[index - '0'])]), Crew).Areas[1];
            Assert.Equal((CheckResult.NotGood, "Ben Marsh"), area.Checks.Single(check => check.Check.Id == "exits").Answer is { } exits
                ? (exits.Answer, exits.By[0].Name) : default);
            Assert.Equal(CheckResult.DoesNotApply, area.Checks.Single(check => check.Check.Id == "widths").Answer!.Answer);
            Assert.Equal((1, At(22, 20)), (area.Failed, area.LookedAt));
        }
    }

    [Fact]
    public void A_look_that_is_taken_back_was_never_made() =>
        Assert.Null(AnswerTo(WeekOf(Look, new ReportRetracted("a9", "a1", At(22, 30))), "floor", "exits"));

    [Fact]
    public void Whoever_looked_is_named_and_the_measured_figure_is_kept()
    {
        var area = WalkThrough.Of(WeekOf(Look), Crew).Areas[1];
        Assert.Equal(["Asha Rowan", "Ben Marsh"], area.By.Select(person => person.Name));
        Assert.Equal(940, area.Checks.Single(check => check.Check.Id == "widths").Answer!.Millimetres);
    }

    [Fact]
    public void Photographs_are_those_of_the_area_and_of_a_snag_that_is_alone()
    {
        var look = Look with { Answers = [new("exits", CheckResult.Good)], Photos = ["photo-1"] };
        var later = Look with { Report = "a2", At = At(22, 10), Answers = [new("widths", CheckResult.NotGood)], Photos = ["photo-2"] };
        Assert.Equal(["photo-1", "photo-2"], WalkThrough.Of(WeekOf(later, look), Crew).Areas[1].Photos);
        Assert.Empty(WalkThrough.Of(WeekOf(later, look), Crew).Areas[0].Photos);
        Assert.Equal(["photo-2"], SnagsOf(later).Single().Photos);
        // With two checks that fail it is not known which of them a photograph shows.
        Assert.All(SnagsOf(later with { Answers = [.. later.Answers, new("exits", CheckResult.NotGood)] }),
            snag => Assert.Null(snag.Photos));
        Assert.Equal("report-id-used", WeekOf(look).LookAt(look with { Photos = ["photo-3"] }).AsT1.Code);

        static IEnumerable<SnagRaised> SnagsOf(AreaLookedAt look) => WeekOf().LookAt(look).AsT0.OfType<SnagRaised>();
    }

    [Fact]
    public void Work_after_the_look_is_named()
    {
        var look = Look with { Zone = "wall", Answers = [new("exits", CheckResult.Good)] };
        var before = new WorkStarted("w1", "feature-wall.paint", 1, "monday", At(21, 50));
        var after = new WorkFinished("w2", "feature-wall.paint", 2, "monday", At(22, 30));
        Assert.Empty(WalkThrough.Of(WeekOf(look, before), Crew).Areas[0].WorkedSince);
        Assert.Equal(["Paint the wall"], WalkThrough.Of(WeekOf(look, after), Crew).Areas[0].WorkedSince);
    }

    [Fact]
    public void A_look_names_an_area_its_checks_and_people_of_the_crew()
    {
        Assert.Equal([Look], WeekOf().LookAt(Look).AsT0);
        Assert.Empty(WeekOf(Look).LookAt(Look with { By = "p2", With = [.. Look.With] }).AsT0);
        Assert.Equal("report-id-used",
            WeekOf(Look).LookAt(Look with { Answers = [new("exits", CheckResult.NotGood)] }).AsT1.Code);
        Assert.Equal("unknown-zone", WeekOf().LookAt(Look with { Zone = "roof" }).AsT1.Code);
        Assert.Equal("unknown-person", WeekOf().LookAt(Look with { With = ["p9"] }).AsT1.Code);
        Assert.Equal("unknown-check", WeekOf().LookAt(Look with { Answers = [new("roof", CheckResult.Good)] }).AsT1.Code);
    }

    /// <summary>A snag is not a note: it has an owner and a day. Common practice, no source.</summary>
    [Fact]
    public void A_check_that_fails_raises_a_snag_of_the_store_once()
    {
        var failed = Look with { Answers = [new("air", CheckResult.NotGood), new("exits", CheckResult.NotGood), new("widths", CheckResult.Good)] };
        var events = WeekOf().LookAt(failed).AsT0;
        Assert.Equal([failed], events.OfType<AreaLookedAt>());
        Assert.Equal([("a1.f0", 1, "floor", false), ("a1.f1", 2, "floor", true)], events.OfType<SnagRaised>()
            .Select(snag => (snag.Report, snag.Number, snag.Zone!, snag.Safety)));
        Assert.All(events.OfType<SnagRaised>(), snag =>
            Assert.Equal((SnagOwnerKind.Store, Opened.Week.Launch.Date), (snag.Owner.Kind, snag.Due)));
        var week = WeekOf([.. events]);
        Assert.Equal(2, WalkThrough.Of(week, Crew).Areas[1].Checks.Single(check => check.Check.Id == "exits").Answer!.Snag);

        // It is known to fail: the second look raises nothing. After a pass it does again; an older fail that arrives late does not.
        var again = failed with { Report = "a2", At = At(22, 30) };
        Assert.Equal([again], week.LookAt(again).AsT0);
        var passed = Look with { Report = "a3", At = At(22, 40), Answers = [new("exits", CheckResult.Good)] };
        var mended = WeekOf([.. events, passed]);
        Assert.Equal(3, Assert.Single(mended.LookAt(again with { Report = "a4", At = At(22, 50) }).AsT0.OfType<SnagRaised>()).Number);
        Assert.Empty(mended.LookAt(again with { Report = "a5", At = At(22, 35) }).AsT0.OfType<SnagRaised>());
    }

    private static CheckResult? AnswerTo(StoreWeek week, string zone, string check) => WalkThrough.Of(week, Crew).Areas
        .Single(area => area.Zone == zone).Checks.Single(known => known.Check.Id == check).Answer?.Answer;

    private static IEnumerable<string> IdsOf(WalkThrough walk, string zone) =>
        walk.Areas.Single(area => area.Zone == zone).Checks.Select(check => check.Check.Id);

    private static StoreWeek WeekOf(params IWeekEvent[] events) => WeekOf(null, "No bare spot.", events);

    /// <summary>The example with its plan, and with checks of the paint.</summary>
    private static StoreWeek WeekOf(string? trait, string words, params IWeekEvent[] events) => events.Prepend(Published)
        .Prepend(Opened with
        {
            Week = Opened.Week with
            {
                Tasks = [.. Opened.Week.Tasks.Select(task => task.Id != "feature-wall.paint" ? task
                    : task with { Checks = [words, "Edges are clean."], Traits = trait is null ? [] : [trait] })],
            },
        }).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
}
