using SetWeek.Domain.Directions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Weeks;

/// <summary>The store has no stage and no stand for the cycle, so the panel is built on the shop floor.</summary>
public sealed class WeekScopingTests
{
    private static readonly Display Wall = new("feature-wall", "Painted wall", DisplayCommitment.Want)
        { Value = 30, Alternate = new Alternate("wall.banner", 5) };

    private static readonly Display Banner = new("wall.banner", "Banner", DisplayCommitment.Want) { Value = 5 };

    private static (string, ScopingOutcome, string)[] Now(params IWeekEvent[] events) => [.. WeekScoping.Of(Given(events))
        .Where(decision => decision.Display is not "cycle").Select(found => (found.Display, found.Outcome, found.Sentence))];

    [Fact]
    public void It_is_that_of_the_opening_while_nothing_was_decided() =>
        Assert.Equal(Opened.Scoping, WeekScoping.Of(Given()));

    [Fact]
    public void It_says_what_the_week_has_chosen_since()
    {
        var before = Now();
        IWeekEvent[] set = [new DisplaySet(Banner), new DisplaySet(Wall)];
        Assert.Equal([.. before, ("feature-wall", ScopingOutcome.Alternate, "“Banner” replaces “Painted wall”: decided in this week.")],
            Now([.. set, new DisplayChoiceSet("feature-wall", DisplayChoice.UseAlternate)]));
        Assert.Equal([.. before, ("feature-wall", ScopingOutcome.Dropped, "“Painted wall” is left out: decided in this week.")],
            Now([.. set, new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut)]));
        Assert.Equal(before, Now([.. set, new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut),
            new DisplayChoiceSet("feature-wall", DisplayChoice.Build)]));
    }

    [Fact]
    public void It_says_which_displays_were_dropped_in_place_of_where_they_were_built()
    {
        var dropped = Now(new DisplayDropped("cycle.panel"));
        Assert.Equal([("cycle.panel", ScopingOutcome.Dropped, "“Cycle panel” was dropped from this week.")], dropped);
        Assert.Equal(Now(), Now(new DisplayDropped("cycle.panel"),
            new DisplaySet(new Display("cycle.panel", "Cycle panel", DisplayCommitment.Want))));
    }

    [Fact]
    public void A_later_version_of_the_direction_is_scoped_anew()
    {
        ScopingDecision[] later = [new("cycle", ScopingOutcome.Dropped, "“Cycle prop” is dropped: the direction names no alternate.")];
        var week = Given(new TasksRevised("first-rain", 2, null, TaskRevisionKind.Direction, [], [], "head", later));
        Assert.Equal(later, WeekScoping.Of(week));
        // Tasks that the store changes leave the scoping as it is.
        Assert.Equal(later, WeekScoping.Of(StoreWeek.Evolve(week,
            new TasksRevised("first-rain", 2, null, TaskRevisionKind.Store, [], [], "lena"))!));
    }
}
