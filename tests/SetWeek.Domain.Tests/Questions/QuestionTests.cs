using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Questions;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Questions;

public sealed class QuestionTests
{
    private static readonly Instant Noon = Instant.FromUtc(2027, 3, 9, 12, 0);

    private static readonly QuestionAsked Asked =
        new("q1", "feature-wall.paint", 1, "phone-1.4", Addressee.HeadOffice, At(22, 0));

    [Fact]
    public void A_question_is_recorded_once()
    {
        Assert.Equal([Asked], Given().Ask(Asked).AsT0);
        Assert.Empty(Given(Asked).Ask(Asked).AsT0);
        Assert.Equal("another-question", Given(Asked).Ask(Asked with { Stint = 2 }).AsT1.Code);
    }

    [Fact]
    public void A_question_of_a_clock_that_is_ahead_is_the_same_when_it_is_sent_again()
    {
        QuestionAsked Received(int minute) => Asked with { At = At(21, minute), Clock = new(Asked.At, At(21, minute)) };
        Assert.Empty(Given(Received(10)).Ask(Received(20)).AsT0);
        Assert.Empty(Given(Received(10)).Ask(Asked).AsT0);
        Assert.Equal("another-question", Given(Received(10)).Ask(Asked with { At = At(21, 10) }).AsT1.Code);
    }

    [Fact]
    public void A_question_must_name_a_task_of_the_week_or_none()
    {
        Assert.Equal("unknown-task", Given().Ask(Asked with { Task = "roof" }).AsT1.Code);
        Assert.Equal("unknown-stint", Given().Ask(Asked with { Stint = 3 }).AsT1.Code);
        Assert.True(Given().Ask(Asked with { Task = null, Stint = null, Block = null }).IsT0);
    }

    [Fact]
    public void A_question_may_name_a_display_and_then_only_a_task_of_it()
    {
        var about = Asked with { Task = null, Stint = null, Display = "feature-wall" };
        Assert.True(Given().Ask(about).IsT0);
        Assert.Equal("unknown-display", Given().Ask(about with { Display = "roof" }).AsT1.Code);
        Assert.True(Given().Ask(Asked with { Display = "feature-wall" }).IsT0);
        Assert.Equal("other-display", Given().Ask(Asked with { Display = "cycle.panel" }).AsT1.Code);
    }

    [Fact]
    public void A_question_sent_again_with_somebody_else_in_hand_is_the_same()
    {
        Assert.Empty(Given(Asked with { By = "p1" }).Ask(Asked with { By = "p2" }).AsT0);
    }

    [Fact]
    public void The_answer_that_stands_says_who_gave_it_and_when()
    {
        var answered = Given(Asked).Answer("q1", byHeadOffice: true, toAll: false, correction: false, "ada", Noon).AsT0;
        Assert.Equal((Addressee.HeadOffice, "ada", Noon), (answered.From, answered.By, answered.At));
        Assert.Equal(answered, Given(Asked, answered).Questions["q1"].Answer);
    }

    [Fact]
    public void A_lead_answers_only_what_is_addressed_to_the_lead_and_only_for_the_store()
    {
        var forLead = Asked with { For = Addressee.Lead };
        Assert.Equal("for-head-office", Given(Asked).Answer("q1", byHeadOffice: false, false, false, "wren", Noon).AsT1.Code);
        Assert.Equal("to-all", Given(forLead).Answer("q1", byHeadOffice: false, toAll: true, false, "wren", Noon).AsT1.Code);
        Assert.Equal(new QuestionAnswered("q1", Addressee.Lead, false, Addressee.Lead, "wren", Noon),
            Given(forLead).Answer("q1", false, false, false, "wren", Noon).AsT0);
        Assert.True(Given().Answer("q1", true, false, false, "ada", Noon).AsT1.Unknown);
    }

    [Fact]
    public void One_answer_to_several_questions_is_for_every_store_once_a_direction()
    {
        var (here, there) = (Given(Asked, Asked with { Question = "q2", For = Addressee.Lead }), Given(Asked));
        var answers = QuestionDecisions.AnswerTogether(
            [(here, "q1"), (here, "q2"), (there with { Direction = "other" }, "q1")], toAll: true, _ => "Harbour Street",
            "ada", Noon).AsT0;
        Assert.Equal(
            [("q1", Addressee.HeadOffice, true), ("q2", Addressee.Lead, false), ("q1", Addressee.HeadOffice, true)],
            answers.Select(answer => (answer.Answered.Question, answer.Answered.For, answer.Answered.ToAll)));
        Assert.All(answers, answer => Assert.Equal((Addressee.HeadOffice, "ada", Noon),
            (answer.Answered.From, answer.Answered.By, answer.Answered.At)));
    }

    [Fact]
    public void Of_several_questions_none_is_answered_if_one_has_an_answer_or_is_not_there()
    {
        var answered = Given(Asked, new QuestionAnswered("q1", Addressee.HeadOffice, false));
        var refusal = QuestionDecisions.AnswerTogether(
            [(Given(Asked), "q1"), (answered, "q1")], toAll: false, _ => "Harbour Street", "ada", Noon).AsT1;
        Assert.Equal("answered-already", refusal.Code);
        Assert.Equal(["Harbour Street has an answer to a question that you chose."], refusal.Because);
        Assert.True(QuestionDecisions.AnswerTogether([(Given(), "q1")], toAll: false, _ => "", "ada", Noon).AsT1.Unknown);
    }

    [Fact]
    public void An_answer_stands_until_it_is_corrected()
    {
        var answered = Given(Asked).Answer("q1", byHeadOffice: true, toAll: true, correction: false, "ada", Noon).AsT0;
        var week = Given(Asked, answered);
        Assert.Equal((true, true), (week.Questions["q1"].IsAnswered, week.Questions["q1"].ToAll));
        Assert.Equal("answered-already", week.Answer("q1", true, false, correction: false, "ada", Noon).AsT1.Code);
        var corrected = week.Answer("q1", true, toAll: false, correction: true, "ada", Noon).AsT0;
        Assert.False(Given(Asked, answered, corrected).Questions["q1"].ToAll);
    }

    [Fact]
    public void Figures_count_the_questions_that_are_open()
    {
        Assert.Equal(1, WeekFigures.Of(Given(Asked)).OpenQuestions);
        Assert.Equal(0, WeekFigures.Of(Given(Asked, new QuestionAnswered("q1", Addressee.HeadOffice, false))).OpenQuestions);
    }
}
