using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Sentences;

public sealed class EventSentencesTests
{
    private static readonly LocalDateTime Tuesday = new(2027, 3, 9, 12, 0);

    private static readonly SnagRaised Snag = new("snag-1", 1, "wall", null, null, "wall", null,
        new(SnagOwnerKind.Person, "p2"), new(2027, 3, 9), true, "p1", At(22, 0));

    private static readonly (IWeekEvent Event, string Sentence)[] All =
    [
        (Opened, "The week was opened."),
        (new KitExpected("paint", Tuesday), "“Paint” is expected Tue 9 Mar, 12:00."),
        (new KitDelayed("paint", Tuesday), "“Paint” is late and now expected Tue 9 Mar, 12:00."),
        (new KitDelayed("paint", null), "“Paint” is late, and its arrival is unknown."),
        (new KitArrived("r", "paint", At(18, 0)), "“Paint” arrived Mon 8 Mar, 18:00."),
        (new KitCounted("paint", At(18, 0), [new CountedLine("tin", 3, 1)]), "“Paint” was counted: 3 × tin, 1 of them damaged."),
        (new KitCounted("paint", At(18, 0), [new CountedLine("small-tin", 3, 0)], true), "“Paint” was confirmed as complete: 3 × small tin."),
        (new KitLineSettled("paint", "small-tin"), "The received quantity of small tin of “Paint” was accepted."),
        (new CrewJoined("p3"), "\"p3\" joined the crew."),
        (new CrewJoined("p2"), "Ben Marsh joined the crew."),
        (new CrewChanged("p1", ["skills", "available"]), "Asha Rowan changed: skills and availability."),
        (new CrewChanged("p1", ["keyholder", "under18", "ratePerHour", "minutesAlready", "maxNights"]),
            "Asha Rowan changed: keys, particulars and most hours."),
        (new PersonAbsent("p1", "monday"), "Asha Rowan is absent from the night of Mon 8 Mar."),
        (new PersonErased("p3"), "The personal data of \"p3\" was erased."),
        (Published, "Issue 1 of the plan was published."),
        (new WorkStarted("r", "feature-wall.paint", 2, "monday", At(22, 0)),
            "“Paint the wall” (part 2 of 2) was started Mon 8 Mar, 22:00."),
        (new WorkFinished("r", "feature-wall.refit", 1, "monday", At(22, 0)),
            "“Refit the fixtures” was finished Mon 8 Mar, 22:00."),
        (new ChecksFailed("r", "feature-wall.refit", 1, "monday", At(22, 0), [new("All level.", CheckResult.NotGood)]),
            "“Refit the fixtures” is not done: it was looked at Mon 8 Mar, 22:00: 1 not good (All level)."),
        (new WorkBlocked("r", "feature-wall.refit", 1, At(22, 0), "not-dry", null, null),
            "“Refit the fixtures” is blocked: wet, not dry."),
        (new WorkReopened("r", "feature-wall.refit", 1, At(22, 0)), "“Refit the fixtures” must be done again."),
        (new PlanBroken("plan-1", RuleId.Kit, "feature-wall.paint", 1, null, "monday", "{person:p2} and {person:p3} are absent.", "r"),
            "Issue 1 of the plan no longer holds: Ben Marsh and \"p3\" are absent."),
        (new PlanHoldsAgain("plan-1"), "Issue 1 of the plan holds again."),
        (new WorkProgressed("r", "feature-wall.refit", 1, At(22, 0), 20, 3, 8),
            "“Refit the fixtures” has 3 of 8 done and needs 20 more minutes."),
        (new WorkPaused("r", "feature-wall.refit", 1, At(22, 0)), "“Refit the fixtures” was paused Mon 8 Mar, 22:00."),
        (new WorkResumed("r", "feature-wall.refit", 1, "monday", At(22, 0)), "“Refit the fixtures” was resumed Mon 8 Mar, 22:00."),
        (new WorkStopped("r", "monday", "wall", At(22, 0)), "Work in Feature wall was stopped for the night of Mon 8 Mar: not safe."),
        (new WorkStopped("r", "monday", null, At(22, 0)), "All work was stopped for the night of Mon 8 Mar: not safe."),
        (new StopLifted("stop-1", "p1"), "Asha Rowan lifted the stop of Feature wall in the night of Mon 8 Mar."),
        (new StopLifted("stop-2", "wren"), "\"wren\" lifted the stop of all work in the night of Mon 8 Mar."),
        (new StopLifted("stop-3", "wren"), "\"wren\" lifted a stop."),
        (new ReportRetracted("r2", "begun", At(22, 0)), "Taken back: “Refit the fixtures” was started Mon 8 Mar, 22:00."),
        (new ReportRetracted("r2", "later", At(22, 0)), "A report that has not arrived was taken back."),
        (new ReportRetracted("r2", "back", At(22, 0)), "A retraction was to be taken back, but retractions stay."),
        (new ReportRetracted("r2", "stop-1", At(22, 0)), "A stop was to be taken back, but only a lead lifts it."),
        (new AbsenceRetracted("p1", "monday"), "Asha Rowan comes in the night of Mon 8 Mar after all."),
        (new KitLineUnsettled("paint", "tin"), "The received quantity of tin of “Paint” is no longer accepted."),
        (new CleanDownStarted("r", "wall", "monday", At(23, 0)), "The clean-down of Feature wall was started Mon 8 Mar, 23:00."),
        (new CleanDownFinished("r", "wall", "monday", At(23, 0)),
            "The clean-down of Feature wall was finished Mon 8 Mar, 23:00."),
        (new NightSet(new Night("wednesday", MondayOpens.PlusDays(2), MondayOpens.PlusDays(2).PlusHours(2))),
            "The night of Wed 10 Mar is open from Wed 10 Mar, 21:30 to Wed 10 Mar, 23:30."),
        (new NightSet(new Night("monday", MondayOpens, MondayOpens.PlusHours(2))
            { Bans = [new Ban("noisy", MondayOpens, MondayOpens.PlusHours(1))] }),
            "The night of Mon 8 Mar is open from Mon 8 Mar, 21:30 to Mon 8 Mar, 23:30, with noisy banned from Mon 8 Mar, 21:30 to "
            + "Mon 8 Mar, 22:30."),
        (new NightDropped("tuesday"), "The night of Tue 9 Mar was dropped."),
        (new LaunchMoved(Tuesday), "The launch was moved to Tue 9 Mar, 12:00."),
        (new RulesSet(new RuleSet()), "The rules were changed."),
        (new GoalsSet(Model.Weeks.Week.DefaultGoals, Model.Weeks.Week.DefaultReplanGoals, new HoldTarget()), "The goals of plans were changed."),
        (new ZoneSet(new Zone("floor", "Shop floor", 3)), "Shop floor was set: at most 3 people at work at once."),
        (new ZoneSet(new Zone("floor", "Shop floor")), "Shop floor was set: no limit of people at work."),
        (new EquipmentSet(new Equipment("step-ladder", 0)), "The store has 0 of “step ladder”."),
        (new DisplaySet(new Display("feature-wall", "Painted wall", DisplayCommitment.Must)), "“Painted wall” must be built."),
        (new DisplaySet(new Display("feature-wall", "Painted wall", DisplayCommitment.Want) { Value = 30 }),
            "“Painted wall” is optional (value 30)."),
        (new DisplayDropped("feature-wall"), "“Painted wall” was dropped from the week."),
        (new DisplayChoiceSet("feature-wall", DisplayChoice.Build), "“Painted wall” is to be built."),
        (new DisplayChoiceSet("feature-wall", DisplayChoice.UseAlternate),
            "The alternate of “Painted wall” is built instead of it."),
        (new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut), "“Painted wall” is left out."),
        (new KitSet("tape", "Tape", [new DirectedLine("wide-roll", 2)]), "“Tape” is shipped with 2 × wide roll."),
        (new KitDropped("paint"), "“Paint” is not sent."),
        (new TasksRevised("first-rain", 2, null, TaskRevisionKind.Direction, [], ["feature-wall.refit"], "head"),
            "The week follows version 2 of the direction. Tasks dropped: “Refit the fixtures”."),
        (new TasksRevised("first-rain", 1, null, TaskRevisionKind.Store, [Given().Week.Tasks[0]], [], "lena"),
            "Tasks set: “Paint the wall”."),
        (new Pinned("pin-1", new StintPin("feature-wall.paint")), "“Paint the wall” was pinned."),
        (new Pinned("pin-2", new ShiftPin("p1", "monday")), "The shift of Asha Rowan in the night of Mon 8 Mar was pinned."),
        (new Unpinned("pin-1"), "The pin on “Paint the wall” was taken away."),
        (new Unpinned("pin-2"), "The pin on the shift of Ben Marsh in the night of Mon 8 Mar was taken away."),
        (new Unpinned("pin-3"), "A pin was taken away."),
        (new QuestionAsked("q", "feature-wall.paint", 2, null, Addressee.HeadOffice, At(22, 0)),
            "Head office was asked about “Paint the wall” (part 2 of 2) Mon 8 Mar, 22:00."),
        (new QuestionAsked("q", null, null, null, Addressee.Lead, At(22, 0)), "The lead was asked something Mon 8 Mar, 22:00."),
        (new QuestionAnswered("q", Addressee.Lead, false), "A question was answered."),
        (new MemoRead("m", "wren", default), "The lead has read a memo of head office."),
        (new QuestionAnswered("q", Addressee.HeadOffice, true), "A question was answered for all stores."),
        (new NightOpened("r", "monday", At(21, 20), "p1", ["p1", "p2"], "p2", ["exits"]),
            "Asha Rowan opened the night of Mon 8 Mar: Mon 8 Mar, 21:20, with 2 people there."),
        (new PersonCame("r", "monday", "p2", At(21, 40)), "Ben Marsh came Mon 8 Mar, 21:40."),
        (new PersonLeft("r", "monday", "p2", At(23, 0)), "Ben Marsh left Mon 8 Mar, 23:00."),
        (new NightClosed("r", "monday", At(23, 40), "p1", ["p1"], [], [], [], []),
            "Asha Rowan closed the night of Mon 8 Mar: Mon 8 Mar, 23:40. The whole store can trade."),
        (new NightClosed("r", "monday", At(23, 40), "p1", ["p1"], [], [], ["wall", "floor"], []),
            "Asha Rowan closed the night of Mon 8 Mar: Mon 8 Mar, 23:40. Feature wall and Shop floor stay shut in the morning."),
        (new AreaLookedAt("r", "wall", At(22, 0), "p1", ["p2"],
            [new("exits", CheckResult.Good), new("light", CheckResult.NotGood), new("seams", CheckResult.DoesNotApply)]),
            "Asha Rowan and Ben Marsh looked at Feature wall Mon 8 Mar, 22:00: 1 good, 1 not good."),
        (new DisplayShown("r", "feature-wall", At(21, 40), "p1", ["p2"], "p2", false),
            "Asha Rowan showed “Painted wall” to Ben Marsh Mon 8 Mar, 21:40."),
        (new WeekHandedOver("hand-over-1", Instant.FromUtc(2027, 3, 13, 0, 24), "p1", [], []), "The week was handed over."),
        (new WeekHandedOver("hand-over-1", Instant.FromUtc(2027, 3, 13, 0, 24), "p1", [new("wall", "light")], [4]),
            "The week was handed over with 2 things open."),
        (new HandOverWithdrawn("hand-over-1", "p1"), "Asha Rowan withdrew the hand-over."),
        (Snag, "Snag 1 was raised: Feature wall, somebody could be hurt. Owner: Ben Marsh, by Tue 9 Mar."),
        (Snag with { Number = 2, Zone = null, Display = "feature-wall", Safety = false, Owner = new(SnagOwnerKind.HeadOffice) },
            "Snag 2 was raised: Painted wall (Feature wall). Owner: head office, by Tue 9 Mar."),
        (Snag with { Zone = null, Piece = 101, Task = "feature-wall.paint", Safety = false, Owner = new(SnagOwnerKind.Trade, Trade: "electrician") },
            "Snag 1 was raised: Paint the wall, 101 (Feature wall). Owner: electrician, by Tue 9 Mar."),
        (Snag with { Zone = null, Piece = 103, Safety = false, Owner = new(SnagOwnerKind.Store) },
            "Snag 1 was raised: Clean-down, 103 (Feature wall). Owner: the store, by Tue 9 Mar."),
        (new SnagFixed("r", "snag-1", "p1", At(23, 0)), "Snag 1 was put right Mon 8 Mar, 23:00."),
        (new SnagReopened("r", "snag-1", "p1", At(23, 0)), "Snag 1 is not right after all."),
        (new SnagHandedOn("r", "snag-1", new(SnagOwnerKind.Supplier), Tuesday.Date, "p1", At(23, 0)),
            "Snag 1 went to the supplier and is to be right by Tue 9 Mar."),
        (new SnagAcceptedOpen("r", "snag-9", "p1", At(23, 0)), "A snag that has not arrived was accepted as it is."),
        (new PersonTold(2, "p1", ToldHow.Said, At(12, 0).ToInstant(), "wren"),
            "Somebody was told what issue 2 of the plan changes for them."),
        (new TellingRetracted(2, "p1", "wren"), "Taken back: somebody was told what issue 2 of the plan changes for them."),
        (new ChangesSeen(2, "p1", At(12, 0).ToInstant()), "Somebody has seen what issue 2 of the plan changes for them."),
        (new ChangesAnswered(2, "p1", ChangesAnswer.Declined, At(12, 0).ToInstant(), "p1"),
            "Somebody has answered what issue 2 of the plan changes for them."),
    ];

    /// <summary>A week with what the samples name by id. Nobody in the crew is "p3" or "wren".</summary>
    private static StoreWeek Week { get; } = Given(
        Published, new WorkStopped("stop-1", "monday", "wall", At(22, 0)), new WorkStopped("stop-2", "monday", null, At(22, 0)),
        new WorkStarted("begun", "feature-wall.refit", 1, "monday", At(22, 0)), new ReportRetracted("back", "lost", At(22, 0)),
        new Pinned("pin-1", new StintPin("feature-wall.paint")), new Pinned("pin-2", new ShiftPin("p2", "monday")), Snag);

    [Fact]
    public void Each_event_has_its_sentence() =>
        Assert.All(All, sample => Assert.Equal(sample.Sentence, EventSentences.Of(Week, Crew, sample.Event)));

    /// <summary>Region and head office read what happened, and not who is absent or came late.</summary>
    [Fact]
    public void Without_names_everybody_is_somebody()
    {
        Assert.All(All.Select(sample => EventSentences.Of(Week, CrewFile.Unnamed, sample.Event)), sentence =>
            Assert.DoesNotMatch("Asha|Ben|p[123]\"|wren|\\{", sentence));
        Assert.Equal("Somebody is absent from the night of Mon 8 Mar.",
            EventSentences.Of(Week, CrewFile.Unnamed, new PersonAbsent("p1", "monday")));
        Assert.Equal("Somebody is absent from the night of Mon 8 Mar.", // a copy says it too
            EventSentences.Of(Week, CrewFile.Unnamed with { Members = Crew.Members }, new PersonAbsent("p1", "monday")));
        Assert.Equal("Somebody looked at Feature wall Mon 8 Mar, 22:00: 0 good, 0 not good.",
            EventSentences.Of(Week, CrewFile.Unnamed, new AreaLookedAt("r", "wall", At(22, 0), "p1", ["p2"], [])));
    }

    [Fact]
    public void The_samples_cover_every_event() => Assert.Equal(
        typeof(IWeekEvent).Assembly.GetTypes().Where(type => type.IsClass && type.IsAssignableTo(typeof(IWeekEvent)))
            .Select(type => type.Name).Order(),
        All.Select(sample => sample.Event.GetType().Name).Distinct().Order());
}
