using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.RightShift;

namespace SetWeek.Planning.Tests.Explaining.RightShift;

public sealed class DropOrderTests
{
    /// <summary>
    /// Monday: a coat in two stints, which the forms of Monday and the trim of Tuesday wait for; anchors that secure the forms;
    /// and work that nothing waits for, of different displays.
    /// </summary>
    private static readonly TinyPlan Monday = Make();

    [Fact]
    public void A_piece_frees_the_next_stint_and_what_directly_follows_in_its_night()
    {
        Assert.Equal(["coat 2"], FreedBy("coat", 1));
        Assert.Equal(["forms 1"], FreedBy("coat", 2));
        Assert.Equal(["anchors 1"], FreedBy("forms", 1));
        Assert.Empty(FreedBy("anchors", 1));
        Assert.Empty(WaitingWork.FreedBy(Monday.Problem, Monday.Schedule, Monday.Schedule.Work.Single(work => work.IsCleanDown)));
    }

    /// <summary>
    /// Wants before the must, the lesser want first. Of the must, what is due later goes first. What is due tonight, safety work,
    /// the way out, securing work and the clean-down are not put off, nor is what other work of tonight waits for.
    /// </summary>
    [Fact]
    public void Work_is_put_off_by_value_and_due_and_never_if_somebody_could_be_hurt() =>
        Assert.Equal(["sticker 1", "banner 1", "rug 1", "plinth 1"],
            DropOrder.Of(Monday.Problem, Monday.Schedule, 0).Select(Name));

    private static IEnumerable<string> FreedBy(string task, int stint) => WaitingWork.FreedBy(Monday.Problem, Monday.Schedule,
        Monday.Schedule.Work.Single(work => Name(work) == $"{task} {stint}")).Select(Name);

    private static string Name(Model.Problems.ScheduledWork work) => work.Stint is { } stint
        ? $"{Monday.Problem.Stints[stint].Task.Id} {Monday.Problem.Stints[stint].Number}" : "clean-down";

    private static TinyPlan Make()
    {
        static Func<WeekTask, WeekTask> Of(string display) => task => task with { Display = display };
        return TinyWeek.New
            .Display("big", display => display with { Commitment = DisplayCommitment.Want, Value = 50 })
            .Display("small", display => display with { Commitment = DisplayCommitment.Want, Value = 5 })
            .Task("coat", 60, task => task with { Stints = 2 }).Task("forms", 30, after: "coat")
            .Task("anchors", 30, after: "forms", sameNight: true).Task("trim", 30, after: "coat")
            .Task("banner", 30, Of("big")).Task("sticker", 30, Of("small"))
            .Task("plinth", 30, task => task with { Due = "tue" }).Task("rug", 30)
            .Task("kerb", 30, task => task with { Due = "mon" })
            .Task("net", 30, task => task with { Traits = [WeekTask.SafetyTrait] })
            .Task("door", 30, task => task with { Traits = [WeekTask.WayOutTrait] })
            .CleanDown("wall", 15).Plan
            .Stint("mon", "coat", 1, 0, "22:00", "22:30", "ana").Stint("mon", "coat", 2, 0, "22:30", "23:00", "ana")
            .Work("mon", "forms", "23:00", "23:30", "ana").Work("mon", "anchors", "23:30", "00:00", "ana")
            .Work("mon", "banner", "00:00", "00:30", "ana").Work("mon", "sticker", "00:30", "01:00", "ana")
            .Work("mon", "plinth", "01:00", "01:30", "ana").Work("mon", "rug", "01:30", "02:00", "ana")
            .Work("mon", "kerb", "02:00", "02:30", "ana").Work("mon", "net", "02:30", "03:00", "ana")
            .Work("mon", "door", "03:00", "03:30", "ana").CleanDown("mon", "wall", "03:30", "03:45", "ana")
            .Work("tue", "trim", "22:00", "22:30", "ana");
    }
}
