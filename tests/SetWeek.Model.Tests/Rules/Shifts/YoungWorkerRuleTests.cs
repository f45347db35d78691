using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Shifts;

public sealed class YoungWorkerRuleTests
{
    /// <summary>Ana is under 18. The night opens at 18:00. Young workers stop at 22:00 and may not do ladder work.</summary>
    private static readonly TinyWeek Week = TinyWeek.New
        .Rules(new() { Under18 = new() { Until = new(22, 0), Barred = ["ladder"] } })
        .Person("ana", ana => ana with { Under18 = true })
        .Night("mon", night => night with { Opens = TinyWeek.Local("2027-03-08T18:00") })
        .Task("lights", 60, task => task with { Traits = ["ladder"] });

    private static TinyPlan OnShift(string to) => Week.Plan.Shift("mon", "ana", "18:00", to).Shift("mon", "bo", "18:00", "23:00");

    [Fact]
    public void A_shift_of_a_young_worker_past_the_limit_is_caught()
    {
        var breach = OnShift("22:15").Work("mon", "lights", "18:00", "19:00", "bo").SingleBreach;
        Assert.Equal((RuleId.YoungWorker, "ana"), (breach.Rule, breach.About.Person));
        Assert.Equal("Ana is to be home by Mon 8 Mar 22:00, but the shift ends Mon 8 Mar 22:15.", breach.Sentence);
    }

    [Fact]
    public void A_shift_of_a_young_worker_that_ends_at_the_limit_is_allowed() =>
        Assert.Empty(OnShift("22:00").Work("mon", "lights", "18:00", "19:00", "bo").BrokenRules);

    [Fact]
    public void Barred_work_by_a_young_worker_is_caught()
    {
        var breach = OnShift("22:00").Work("mon", "lights", "18:00", "19:00", "ana").SingleBreach;
        Assert.Equal((RuleId.YoungWorker, "lights", "ana"), (breach.Rule, breach.About.Task, breach.About.Person));
        Assert.Equal("Ana does no ladder work, but “lights” is ladder work.", breach.Sentence);
    }

    [Fact]
    public void An_adult_may_work_past_the_limit_and_do_barred_work() =>
        Assert.Empty(OnShift("22:00").Work("mon", "lights", "22:00", "23:00", "bo").BrokenRules);

    /// <summary>The night opens at 00:30 on Tuesday, so its limit is 22:00 on Monday. No shift of a young worker fits.</summary>
    [Fact]
    public void A_night_that_opens_after_midnight_belongs_to_the_day_before() => Assert.Equal(["young-worker"],
        Week.Night("mon", night => night with { Opens = TinyWeek.Local("2027-03-09T00:30") }).Plan
            .Shift("mon", "bo", "00:30", "06:00").Work("mon", "lights", "01:00", "02:00", "bo")
                .Shift("mon", "ana", "00:30", "02:00").BrokenRules);
}
