using SetWeek.Model.Changes;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Replanning;

namespace SetWeek.Planning.Tests.Explaining.Conflicts;

/// <summary>
/// Conflicts in the middle of a night. A small generated week is published, and its fourth night has run for 90 minutes when
/// something happens that leaves no plan. Ten units of effort are about ten seconds of one core.
/// </summary>
public sealed class ReplanConflictTests
{
    private static readonly SearchLimits TenSeconds = new() { Effort = 10, Workers = 1 };

    private static readonly Lazy<(Week Week, Replan Replan)> Published = new(() =>
    {
        // A plan packed as tightly as its cost allows: one that holds has other conflicts when facts change.
        var week = HoldGoal.WithoutHold(PlannerTests.Generated("small", 4));
        var plan = Planner.Plan(week, new SearchLimits { Effort = 2, Workers = 1 });
        var now = week.Nights[3].Opens.PlusMinutes(90);
        return (week, new Replan(plan, now, ReplanningTests.ReportsAsPlanned(plan, now)));
    });

    /// <summary>
    /// The last night closes two and a half hours after it opens. The conflict names no night that is over, and a night is never
    /// extended by more than three hours.
    /// </summary>
    [Fact]
    public void A_night_cut_short_is_decided_in_ten_seconds_with_a_smallest_conflict_and_small_repairs()
    {
        var (week, replan) = Published.Value;
        var last = week.Nights[^1] with { Closes = week.Nights[^1].Opens.PlusMinutes(150), Bans = [] };
        var nights = week.Nights.SkipLast(1).Append(last).ToArray();
        var plan = Planner.Plan(week with { Nights = nights }, TenSeconds, replan);
        Assert.Equal((PlanStatus.Infeasible, true), (plan.Status, plan.ConflictSmallest));
        Assert.InRange(plan.Conflict.Count, 1, 6);
        Assert.All(plan.Conflict.Where(member => member.Rule == RuleId.Window),
            member => Assert.Contains(member.About.Night, new[] { null, nights[3].Id, last.Id }));
        Assert.NotEmpty(plan.Repairs);
        Assert.All(plan.Repairs.SelectMany(repair => repair.Changes).OfType<NightWindowMoved>(), change =>
        {
            var night = nights.Single(night => night.Id == change.Night);
            Assert.True(change.Closes is null || change.Closes <= night.Closes.PlusMinutes(180));
            Assert.True(change.Opens is null || change.Opens >= night.Opens.PlusMinutes(-180));
        });
    }

    /// <summary>
    /// Both keyholders, who also work, cannot come in the last night. Somebody with the keys who works can replace them, in a
    /// night that is longer. The conflict takes about two seconds; the pair of changes is found later than after ten.
    /// </summary>
    [Fact]
    public void Absent_keyholders_have_a_smallest_conflict_and_are_replaced_by_somebody_with_the_keys()
    {
        var (week, replan) = Published.Value;
        var without = WeekChange.Apply(week, week.Crew.Where(member => member.Keyholder)
            .Select(member => new Absence(member.Id, week.Nights[^1].Id)));
        var plan = Planner.Plan(without, TenSeconds with { Effort = 30 }, replan);
        Assert.Equal((PlanStatus.Infeasible, true), (plan.Status, plan.ConflictSmallest));
        Assert.InRange(plan.Conflict.Count, 2, 5);
        Assert.Contains(plan.Repairs,
            repair => repair.Changes.Any(change => change is ExtraKeyholder or ExtraPerson { Keyholder: true }));
        Assert.All(plan.Repairs.SelectMany(repair => repair.Changes).OfType<ExtraPerson>(),
            extra => Assert.True(extra.Keyholder));
    }

    /// <summary>
    /// Work that is blocked until nobody knows when leaves no plan. No rule is to blame, and no change of the week helps.
    /// </summary>
    [Fact]
    public void Work_blocked_without_an_end_says_what_is_to_be_reported()
    {
        var tiny = TinyWeek.New.Task("hang", 60);
        var published = tiny.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "hang", "22:00", "23:00", "ana");
        var plan = Planner.Plan(tiny.Week, TenSeconds, new Replan(published.AsPlan, TinyWeek.Local("2027-03-08T22:30"),
            [published.Report("mon", "hang", WorkState.Blocked, "22:00")]));
        var reason = Assert.Single(plan.Conflict);
        Assert.Equal((RuleId.Frozen, "hang"), (reason.Rule, reason.About.Task));
        Assert.Equal("“hang” of “The wall” is blocked, and nobody has said until when. Report a time from which it can go on.",
            reason.Sentence);
    }

    /// <summary>
    /// In the afternoon after Monday night, of which "mask" is done: nothing of that night, of that task or of the kit that has come can
    /// be changed any more, and the wall has to be built.
    /// </summary>
    [Fact]
    public void What_is_over_can_not_be_relaxed()
    {
        var tiny = TinyWeek.New.Kit("tins", "2027-03-08T12:00").Kit("props", "2027-03-10T12:00")
            .Ban("mon", "noisy", "2027-03-09T01:00", "2027-03-09T02:00")
            .Ban("tue", "noisy", "2027-03-10T01:00", "2027-03-10T02:00")
            .Person("cy", cy => cy with { Available = [new("tue"), new("wed")] })
            .Person("bo", bo => bo with { Available = [new("mon"), new("wed")] })
            .Display("case", display => display)
            .Task("mask", 60, task => task with { Due = "mon", Needs = [new("tins"), new("props")] })
            .Task("paint", 60, after: "mask").Task("frame", 60, task => task with { Display = "case", Due = "tue" });
        var published = tiny.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:00", "23:00", "ana");
        var replan = new Replan(published.AsPlan, TinyWeek.Local("2027-03-09T14:00"),
            [published.Report("mon", "mask", WorkState.Done, "22:00", "23:00")]);
        string[] left = [.. AllRelaxableRules.Of(tiny.Week, replan)
            .SelectMany(rule => rule.Parts.Count == 0 ? [rule] : rule.Parts)
            .Select(rule => $"{rule.Rule.Text()} {rule.About.Display}{rule.About.Kit}{rule.About.Task}{rule.About.Night}"
                + rule.About.Person).Order(StringComparer.Ordinal)];
        Assert.Equal(["after paint", "availability bo", "ban tue", "due frametue", "kit props", "launch ", "skill ", "whole case",
            "window tue", "window wed"], left);
    }
}
