using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Notifications;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Notifications;

/// <summary>
/// Issue 2 lets Ben go half an hour later, and gives Asha a part of his work. The rules ask for a day's notice. Asha and Ben have
/// shifts from 21:30 to 23:30 on Monday 8 March.
/// </summary>
public sealed class ToldTests
{
    private static readonly Instant Morning = At(9, 0).ToInstant(), Noon = At(12, 0).ToInstant();

    private static readonly Plan Longer = Worked with
    {
        Nights = [Worked.Nights[0] with
        {
            Shifts = [Worked.Nights[0].Shifts[0], Worked.Nights[0].Shifts[1] with { To = At(24 - 1, 45) }],
            Work = [Worked.Nights[0].Work[0], Worked.Nights[0].Work[1] with { People = [new PlannedPerson("p1", "painting")] },
                Worked.Nights[0].Work[2]],
        }],
    };

    private static readonly IWeekEvent[] TwoIssues =
    [
        new RulesSet(new RuleSet { NoticeMinutes = 24 * 60 }),
        Published with { Issue = 1, By = "lena", At = Morning - Duration.FromDays(5) },
        Published with { PlanId = "plan-2", Plan = Longer, Issue = 2, By = "lena", At = Morning },
    ];

    private static StoreWeek After(params IWeekEvent[] events) => Given([.. TwoIssues, .. events]);

    private static ToldPerson Person(StoreWeek week, string id, int? issue = null) =>
        ToldReport.Of(week, Crew, issue)!.People.Single(person => person.Person == id);

    /// <summary>
    /// The last events that are receipts alone are counted, so that they overtake no form. That a memo was read is a receipt too.
    /// </summary>
    [Fact]
    public void Receipts_at_the_end_are_counted_and_anything_else_ends_the_count()
    {
        IWeekEvent seen = new ChangesSeen(2, "p1", Noon), later = new ChangesSeen(2, "p2", Noon),
            told = new PersonTold(2, "p2", ToldHow.Said, Noon, "lena"),
            answer = new ChangesAnswered(2, "p2", ChangesAnswer.Declined, Noon, "p2"), read = new MemoRead("m1", "lena", Noon);
        Assert.Equal([0, 1, 2, 0, 0, 1, 1, 2],
            new IWeekEvent[][]
            {
                [], [seen], [seen, later], [seen, told], [seen, later, answer], [answer, seen],
                [answer, read], [told, seen, read],
            }
                .Select(events => After(events).TrailingReceipts));
    }

    [Fact]
    public void A_changed_shift_waits_for_an_answer_until_the_person_agrees_or_cannot()
    {
        Assert.Equal((2, null), (After().IssueToAnswer("p2"), After().IssueToAnswer("p1"))); // of Asha only the work changes
        Assert.Equal(2, After(new ChangesSeen(2, "p2", Noon)).IssueToAnswer("p2"));
        Assert.Equal(2, After(new ChangesAnswered(2, "p2", ChangesAnswer.Seen, Noon, "p2")).IssueToAnswer("p2"));
        Assert.Null(After(new ChangesAnswered(2, "p2", ChangesAnswer.Agreed, Noon, "lena")).IssueToAnswer("p2"));
        Assert.Null(After(new ChangesAnswered(2, "p2", ChangesAnswer.Declined, Noon, "p2")).IssueToAnswer("p2"));
        Assert.Null(Given(TwoIssues[1]).IssueToAnswer("p1")); // the first plan
        Assert.Null(Given().IssueToAnswer("p1"));
    }

    [Fact]
    public void Of_the_first_plan_everybody_with_a_shift_is_told()
    {
        var report = ToldReport.Of(After(), Crew, issue: 1)!;
        Assert.Equal(["p1", "p2"], report.People.Select(person => person.Person));
        Assert.All(report.People, person =>
            Assert.Equal(["Monday 8 March: you have a new shift, 21:30 to 23:30."], person.Sentences));
        Assert.Equal((2, 2, 0, false), (report.Counts.People, report.Counts.AboutShifts, report.Counts.AtShortNotice, report.IsCurrent));
    }

    [Fact]
    public void Of_a_replan_those_are_told_whose_shift_or_work_changes_shifts_first()
    {
        var report = ToldReport.Of(After(), Crew)!;
        Assert.Equal((2, true, "plan-2", "lena", At(9, 0)),
            (report.Issue, report.IsCurrent, report.Plan, report.PublishedBy, report.PublishedAt!.Value));
        Assert.Equal(["p2", "p1"], report.People.Select(person => person.Person));
        Assert.Equal(["Monday 8 March: your shift is now 21:30 to 23:45 instead of 21:30 to 23:30."], report.People[0].Sentences);
        Assert.Equal(["Monday 8 March: you also do Paint the wall."], report.People[1].Sentences);
        Assert.Equal((true, false), (report.People[0].ShiftsChange, report.People[1].ShiftsChange));
        Assert.Equal(new ToldCounts(2, 1, 1, 0, 0, 0, 0, 2), report.Counts);
        Assert.Equal([new EarlierIssue(1, 2)], report.Earlier);
    }

    /// <summary>Published at 09:00, begins at 21:30: 12.5 hours of the 24 that the rules ask for.</summary>
    [Fact]
    public void A_shift_that_begins_inside_the_notice_period_is_at_short_notice()
    {
        Assert.Equal((true, "The first changed shift begins Monday 8 March, 21:30, 12 hours after the plan was published. "
            + "The rules of this week ask for 1 day."), (Person(After(), "p2").AtShortNotice, Person(After(), "p2").Notice));
        var early = Given(new RulesSet(new RuleSet { NoticeMinutes = 750 }), TwoIssues[1], TwoIssues[2]); // 12 h 30 exactly
        Assert.Equal((false, null), (Person(early, "p2").AtShortNotice, Person(early, "p2").Notice));
        var later = Given(new RulesSet(new RuleSet { NoticeMinutes = 751 }), TwoIssues[1], TwoIssues[2]);
        Assert.True(Person(later, "p2").AtShortNotice);
        Assert.False(Person(Given(TwoIssues[1], TwoIssues[2]), "p2").AtShortNotice); // no notice period
    }

    [Fact]
    public void A_lead_tells_several_at_once_how_and_when()
    {
        var told = After().Tell(Crew, 2, ["p1", "p2", "p1"], ToldHow.Called, At(10, 30).ToInstant(), Noon, "lena").AsT0;
        Assert.Equal([new PersonTold(2, "p1", ToldHow.Called, At(10, 30).ToInstant(), "lena"),
            new PersonTold(2, "p2", ToldHow.Called, At(10, 30).ToInstant(), "lena")], told);
        var week = After([.. told]);
        Assert.Equal([new ToldTelling(ToldHow.Called, At(10, 30), "lena")], Person(week, "p2").Told);
        Assert.Equal((2, 0, 0), (ToldReport.Of(week, Crew)!.Counts.Told, ToldReport.Of(week, Crew)!.Counts.Seen,
            ToldReport.Of(week, Crew)!.Counts.Uninformed));
        Assert.Empty(week.Tell(Crew, 2, ["p1"], ToldHow.Called, At(10, 30).ToInstant(), Noon, "lena").AsT0); // again
        Assert.Single(week.Tell(Crew, null, ["p1"], ToldHow.Said, Noon, Noon, "lena").AsT0); // and once more, face to face
    }

    [Fact]
    public void What_cannot_be_recorded_is_refused_with_the_reason()
    {
        string Refusal(StoreWeek week, int? issue, string person, Instant at) =>
            week.Tell(Crew, issue, [person], ToldHow.Said, at, Noon, "lena").AsT1.Code;
        Assert.Equal("nothing-published", Refusal(Given(), null, "p1", Noon));
        Assert.Equal("another-issue", Refusal(After(), 1, "p1", Noon));
        Assert.Equal("in-future", Refusal(After(), 2, "p1", Noon + Duration.FromSeconds(1)));
        Assert.Equal("before-issue", Refusal(After(), 2, "p1", At(8, 58).ToInstant()));
        Assert.Equal("unknown-person", Refusal(After(), 2, "p9", Noon));
        Assert.Equal("nobody", After().Tell(Crew, 2, [], ToldHow.Said, Noon, Noon, "lena").AsT1.Code);
        var same = Given(TwoIssues[1], Published with { PlanId = "plan-2", Issue = 2, At = Morning });
        Assert.Equal("nothing-changes", Refusal(same, 2, "p1", Noon));
        Assert.Empty(ToldReport.Of(same, Crew)!.People);
    }

    [Fact]
    public void A_telling_is_taken_back_and_the_history_says_so()
    {
        var told = new PersonTold(2, "p1", ToldHow.Said, Noon, "lena");
        Assert.Equal("not-told", After().RetractTelling(Crew, 2, "p1", "lena").AsT1.Code);
        var retracted = After(told).RetractTelling(Crew, 2, "p1", "lena").AsT0;
        var week = After(told, retracted);
        Assert.Empty(Person(week, "p1").Told);
        IWeekEvent[] events = [Opened, .. TwoIssues, told, retracted];
        Assert.Equal(5, WeekHistory.Of(week, Crew, events)[4].TakenBackBy);
    }

    [Fact]
    public void What_somebody_has_seen_is_recorded_once_and_only_if_it_concerns_them()
    {
        var seen = After().See("p2", Noon)!;
        Assert.Equal(new ChangesSeen(2, "p2", Noon), seen);
        Assert.Null(After(seen).See("p2", Noon + Duration.FromHours(1)));
        Assert.Equal(At(12, 0), Person(After(seen), "p2").Seen);
        Assert.Null(After().See("lena", Noon));
        Assert.Null(Given().See("p2", Noon));
    }

    [Fact]
    public void Who_publishes_a_plan_has_seen_it() =>
        Assert.Equal(At(9, 0), Person(Given(TwoIssues[1], ((PlanPublished)TwoIssues[2]) with { By = "p2" }), "p2").Seen);

    [Fact]
    public void An_answer_is_the_persons_own_or_marked_as_recorded_for_them()
    {
        var own = After().AnswerChanges(Crew, 2, "p2", ChangesAnswer.Agreed, Noon, "p2").AsT0;
        Assert.Equal((new ToldAnswer(ChangesAnswer.Agreed, At(12, 0), false, "p2"), (OffsetDateTime?)At(12, 0)),
            (Person(After([.. own]), "p2").Answer!, Person(After([.. own]), "p2").Seen)); // whoever answers has seen it
        Assert.Empty(After([.. own]).AnswerChanges(Crew, 2, "p2", ChangesAnswer.Agreed, Noon, "p2").AsT0);

        var forThem = After([.. own]).AnswerChanges(Crew, 2, "p2", ChangesAnswer.Declined, Noon, "lena").AsT0;
        Assert.Equal(new ToldAnswer(ChangesAnswer.Declined, At(12, 0), true, "lena"), Person(After([.. own, .. forThem]), "p2").Answer);
        Assert.Null(Person(After([.. forThem]), "p2").Seen);
        Assert.Equal("theirs-to-say", After().AnswerChanges(Crew, 2, "p2", ChangesAnswer.Seen, Noon, "lena").AsT1.Code);
    }

    /// <summary>They are no part of the planner's input, and taking another fact back leaves them.</summary>
    [Fact]
    public void They_overtake_no_plan_break_none_and_stay_when_a_report_is_taken_back()
    {
        var told = new PersonTold(2, "p1", ToldHow.Said, Noon, "lena");
        Assert.True(PublishCheck.IsFloorFact(told));
        Assert.False(PlanHealth.NeedsCheck(After(told), [told]));
        var week = After(told, new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 45)),
            new ReportRetracted("r2", "r1", At(21, 50)));
        Assert.Empty(week.ReportedWork.Statuses);
        Assert.Single(Person(week, "p1").Told);
    }

    [Fact]
    public void Who_is_erased_is_told_nothing()
    {
        var week = After(new PersonTold(2, "p1", ToldHow.Said, Noon, "lena"), new PersonErased("p1"));
        Assert.Equal(["p2"], ToldReport.Of(week, Crew.Without("p1"))!.People.Select(person => person.Person));
        Assert.Equal([1, 1], week.Notifications.Values.Select(issue => issue.People.Count));
    }

    [Fact]
    public void Figures_count_who_knows_nothing_and_who_cannot()
    {
        var figures = WeekFigures.Of(After(new ChangesAnswered(2, "p2", ChangesAnswer.Declined, Noon, "lena"),
            new ChangesSeen(2, "p1", Noon)));
        Assert.Equal((1, 1), (figures.Uninformed, figures.Declined));
        Assert.Equal((0, 0), (WeekFigures.Of(Given()).Uninformed, WeekFigures.Of(Given()).Declined));
    }
}
