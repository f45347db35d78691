using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Domain.Work.Gates;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Work;

/// <summary>Ben paints the wall from 21:50. Its checks here: no bare spot, batch number on the sheet.</summary>
public sealed class AnswerTests
{
    private const string Bare = "No bare spot.", Batch = "Batch number on the sheet.";

    private static readonly WorkStarted Start = new("r1", "feature-wall.paint", 1, "monday", At(21, 50));
    private static readonly WorkFinished Finish = new("r2", "feature-wall.paint", 1, "monday", At(22, 20), ["p2"], By: "p2");

    private static readonly WeekOpened WithChecks = Opened with
    {
        Week = Opened.Week with
        {
            Tasks = [.. Opened.Week.Tasks.Select(task => task.Id == "feature-wall.paint" ? task with { Checks = [Bare, Batch] } : task)],
        },
    };

    [Fact]
    public void A_finish_whose_checks_are_good_or_do_not_apply_is_a_finish()
    {
        var finish = Finish with { Checks = [new(Bare, CheckResult.Good), new(Batch, CheckResult.DoesNotApply)], Air = new(19, 55) };
        Assert.Same(finish, AnswerDecisions.Finishing(finish, null));
        Assert.Same(Finish, AnswerDecisions.Finishing(Finish, null)); // nothing was asked
        var status = StatusAfter(Start, finish);
        Assert.Equal((WorkState.Done, "p2", new AirReading(19, 55)), (status.State, status.By, status.Air));
        Assert.Equal([CheckResult.Good, CheckResult.DoesNotApply], status.Checks!.Select(check => check.Result));
    }

    [Fact]
    public void Work_with_a_check_that_is_not_good_is_not_done_and_goes_on()
    {
        var failed = AnswerDecisions.Finishing(
            Finish with { Checks = [new(Bare, CheckResult.NotGood), new(Batch, CheckResult.Good)] }, remainingMinutes: 15);
        Assert.IsType<ChecksFailed>(failed);
        var status = StatusAfter(Start, failed);
        Assert.Equal((ReportedState.Paused, 15, 30, "p2"),
            (status.ReportedState, status.RemainingMinutes!.Value, status.WorkedMinutes, status.By));
        Assert.Equal(Bare, Assert.Single(status.Checks!, check => check.Result == CheckResult.NotGood).Check);

        var again = new WorkResumed("r3", "feature-wall.paint", 1, "monday", At(22, 30));
        Assert.Equal((WorkState.Running, At(22, 45)), StatusAfter(Start, failed, again) is var on ? (on.State, on.To!.Value) : default);
        var done = StatusAfter(Start, failed, again, Finish with { Report = "r4", At = At(22, 40) });
        Assert.Equal((WorkState.Done, null), (done.State, done.Checks));
    }

    /// <summary>A lead records times without answers. Whoever looks at it later signs, and the times stay.</summary>
    [Fact]
    public void What_nobody_has_answered_of_finished_work_is_answered_later()
    {
        var late = Finish with { Report = "r3", At = At(23, 10), People = null, By = "p1", Checks = [new(Bare, CheckResult.Good)] };
        var done = StatusAfter(Start, Finish with { By = "lena" }, late);
        Assert.Equal((WorkState.Done, At(22, 20), "lena"), (done.State, done.To!.Value, done.By));
        Assert.Equal(["p2"], done.People);
        Assert.Equal([new LateSignature("p1", 1)], done.LateSignatures);
        // The other check too; an answer that is given already stays as it is.
        var both = late with
        {
            Report = "r4", At = At(23, 20), By = "p2", Checks = [new(Bare, CheckResult.DoesNotApply), new(Batch, CheckResult.Good)],
        };
        Assert.Equal([(Bare, CheckResult.Good), (Batch, CheckResult.Good)],
            StatusAfter(Start, Finish, late, both).Checks!.Select(answer => (answer.Check, answer.Result)));
        Assert.Equal([new LateSignature("p1", 1), new("p2", 1)], StatusAfter(Start, Finish, late, both).LateSignatures);
        Assert.Single(StatusAfter(Start, Finish, late, late with { Report = "r5", At = At(23, 30) }).LateSignatures);

        // With one that is not good it was not done: half an hour was worked, and the rest remains.
        var open = StatusAfter(Start, Finish, AnswerDecisions.Finishing(
            late with { Checks = [new(Bare, CheckResult.NotGood)] }, remainingMinutes: 10));
        Assert.Equal((ReportedState.Paused, 10, 30), (open.ReportedState, open.RemainingMinutes!.Value, open.WorkedMinutes));
        Assert.Equal(WorkState.Done, StatusAfter(Start, late with { At = At(22, 20) }, AnswerDecisions.Finishing(
            late with { Report = "r4", Checks = [new(Bare, CheckResult.NotGood)] }, null)).State); // answered by then
    }

    /// <summary>The reading belongs to the finish: the paint dries from then on.</summary>
    [Fact]
    public void The_air_is_that_of_the_last_finish()
    {
        var read = Finish with { Air = new(19, 80) };
        var late = Finish with { Report = "r3", At = At(23, 10), Checks = [new(Bare, CheckResult.Good)], Air = new(23, 50) };
        Assert.Equal(new AirReading(19, 80), StatusAfter(Start, read, late).Air);
        Assert.Null(StatusAfter(Start, Finish, late).Air);
        var failed = AnswerDecisions.Finishing(read with { Checks = [new(Bare, CheckResult.NotGood)] }, remainingMinutes: 15);
        Assert.Null(StatusAfter(Start, failed, Finish with { Report = "r4", At = At(22, 40) }).Air);
    }

    [Fact]
    public void Without_a_word_on_what_remains_it_is_the_planned_minutes_less_those_worked() =>
        Assert.Null(StatusAfter(Start, AnswerDecisions.Finishing(
            Finish with { Checks = [new(Bare, CheckResult.NotGood)] }, null)).RemainingMinutes);

    [Fact]
    public void Work_does_not_begin_while_a_gate_is_not_good()
    {
        var refusal = Given(Published).TakeReport(Start with { Gates = [new("ladder-tag", CheckResult.NotGood)] }).AsT1;
        Assert.Equal("gate-not-good", refusal.Code);
        Assert.StartsWith("“Paint the wall” does not begin, because this is not so: Tonight's tag is on the ladder", refusal.Sentence);
        var given = Start with { Gates = [new("ladder-tag", CheckResult.Good), new("circuit-off", CheckResult.DoesNotApply)] };
        Assert.Equal([given], Given(Published).TakeReport(given).AsT0);
        Assert.Equal(2, StatusAfter(given).Gates!.Count);
    }

    [Fact]
    public void Only_answers_to_checks_and_gates_that_the_work_has_or_had_are_recorded()
    {
        var week = Week(Published);
        string? CodeOf(string check, string task = "feature-wall.paint") =>
            week.TakeReport(Finish with { Task = task, Checks = [new(check, CheckResult.Good)] })
                .Match(_ => (string?)null, refusal => refusal.Code);
        Assert.Null(CodeOf(Bare));
        Assert.Null(CodeOf(UsualGates.Known.After[0].Text));
        Assert.Equal("unknown-check", CodeOf("Asha forgot the tape."));
        Assert.Equal("unknown-check", CodeOf(Bare, "feature-wall.refit"));
        Assert.Equal("unknown-gate", week.TakeReport(Start with { Gates = [new("horoscope", CheckResult.Good)] }).AsT1.Code);
        // A phone without network shows the check as it was before the revision.
        var task = WithChecks.Week.Tasks.Single(task => task.Id == "feature-wall.paint") with { Checks = ["Even from the door."] };
        week = Week(Published, new TasksRevised("first-rain", 2, "memo-1", TaskRevisionKind.Direction, [task], [], "lena"));
        Assert.Null(CodeOf(Bare));
        Assert.Null(CodeOf("Even from the door."));
    }

    [Fact]
    public void A_report_sent_again_by_somebody_else_is_a_repetition_and_with_other_answers_it_is_not()
    {
        var finish = Finish with { Checks = [new(Bare, CheckResult.Good)] };
        var week = Week(Published, Start, finish);
        Assert.Empty(week.TakeReport(finish with { By = "p1", Checks = [new(Bare, CheckResult.Good)] }).AsT0);
        Assert.Equal("report-id-used",
            week.TakeReport(finish with { Checks = [new(Bare, CheckResult.DoesNotApply)] }).AsT1.Code);
    }

    [Fact]
    public void The_history_tells_the_answers_in_words()
    {
        var week = Week(Published);
        Assert.Equal("“Paint the wall” (part 1 of 2) was finished Mon 8 Mar, 22:20: 1 check good, 1 not applicable.", EventSentences.Of(week,
            Finish with { Checks = [new(Bare, CheckResult.Good), new(Batch, CheckResult.DoesNotApply)] }));
        Assert.Equal("“Paint the wall” (part 1 of 2) is not done: it was looked at Mon 8 Mar, 22:20: 1 not good (No bare spot).",
            EventSentences.Of(week, (IFloorReport)AnswerDecisions.Finishing(
                Finish with { Checks = [new(Bare, CheckResult.NotGood)] }, null)));
        Assert.Equal("“Paint the wall” (part 1 of 2) was started Mon 8 Mar, 21:50 after 1 answer to gates.",
            EventSentences.Of(week, Start with { Gates = [new("air-on", CheckResult.Good)] }));
    }

    private static StoreWeek Week(params IWeekEvent[] events) =>
        events.Prepend(WithChecks).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;

    private static WorkStatus StatusAfter(params IWorkReport[] reports) =>
        Assert.Single(Week([Published, .. reports]).ReportedWork.Statuses);
}
