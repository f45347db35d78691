using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>An open week changes by events that each carry the whole new value of one thing.</summary>
public sealed class RevisionTests
{
    private static readonly LocalDateTime WednesdayOpens = MondayOpens.PlusDays(2);
    private static readonly Night Wednesday = new("wednesday", WednesdayOpens, WednesdayOpens.PlusHours(3));

    /// <summary>A stop is read as a trait and a ban. A trait of the same word that the week has by itself is no stop.</summary>
    [Fact]
    public void A_revision_keeps_a_trait_named_stopped_and_does_not_make_a_stop_last()
    {
        var own = new WeekOpened(Opened.Direction, Opened.DirectionVersion, Opened.Week with
        {
            Tasks = [.. Opened.Week.Tasks.Select((task, index) => index == 0 ? task with { Traits = ["stopped"] } : task)],
        }, Opened.Crew, Opened.Scoping);
        IWeekEvent[] events = [own, Published];
        foreach (var stops in (IWeekEvent[][])[[], [new WorkStopped("s1", "monday", null, At(22, 0))]])
            Assert.Empty(Revised(events.Concat(stops).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!, week => week).Events);
    }

    [Fact]
    public void The_same_week_needs_no_event() => Assert.Empty(Revised(Given(), week => week).Events);

    [Fact]
    public void A_night_is_added_in_time_order_with_its_bans()
    {
        var sunday = new Night("sunday", MondayOpens.PlusDays(-1), MondayOpens.PlusDays(-1).PlusHours(2))
        {
            Bans = [new Ban("noisy", MondayOpens.PlusDays(-1), MondayOpens.PlusDays(-1).PlusHours(1))],
        };
        var set = Assert.IsType<NightSet>(Assert.Single(Revised(Given(), week => week.With(sunday)).Events));
        Assert.True(WeekParts.Same(sunday, set.Night));
        Assert.Equal(["sunday", "monday", "tuesday"], Given(set).Week.Nights.Select(night => night.Id));
    }

    [Fact]
    public void A_window_is_changed_by_the_whole_night()
    {
        var longer = Given().Week.Nights[0] with { Closes = MondayOpens.PlusHours(6) };
        Assert.Equal(longer, Assert.IsType<NightSet>(Assert.Single(Revised(Given(), week => week.With(longer)).Events)).Night);
    }

    /// <summary>
    /// Ben's hours end at 23:00 on Tuesday. If they came back with a night of another week, they would end before they begin.
    /// </summary>
    [Fact]
    public void A_night_is_dropped_with_everybodys_hours_and_pins_in_it()
    {
        var crew = Crew.With(Crew.Members[1] with
        {
            Available = [new("monday"), new("tuesday", To: MondayOpens.PlusDays(1).PlusMinutes(90))],
        });
        IWeekEvent pin = new Pinned("pin-1", new ShiftPin("p1", "tuesday"));
        var dropped = Revised(Given(pin), crew, week => week.WithoutNight("tuesday"));
        Assert.Equal([new NightDropped("tuesday"), new Unpinned("pin-1")], dropped.Events);
        Assert.True(dropped is { ChangesCrewFile: true, ConcernsCrew: false });
        Assert.All(dropped.Crew.Members, member => Assert.Equal("monday", Assert.Single(member.Available).Night));

        var week = Given([pin, .. dropped.Events]);
        var later = new Night("tuesday", MondayOpens.PlusDays(8), MondayOpens.PlusDays(8).PlusHours(4));
        var again = Revised(week, dropped.Crew, wanted => wanted.With(later));
        var input = PlanningProblem.WeekOf(Given([pin, .. dropped.Events, .. again.Events]), again.Crew);
        Assert.True(WeekFile.Check(input).IsT0);
        Assert.All(input.Crew, member => Assert.Equal("monday", Assert.Single(member.Available).Night));
    }

    /// <summary>Her absence goes with the night, and so does the pin that lapsed with it.</summary>
    [Fact]
    public void Nobody_is_absent_from_a_night_that_is_set_again()
    {
        IWeekEvent[] absent = [new Pinned("pin-1", new ShiftPin("p1", "tuesday") { Off = true }), new PersonAbsent("p1", "tuesday")];
        var dropped = Revised(Given(absent), week => week.WithoutNight("tuesday"));
        Assert.Equal([new NightDropped("tuesday"), new Unpinned("pin-1")], dropped.Events);
        var again = Given([.. absent, .. dropped.Events, new NightSet(Given().Week.Nights[1])]);
        Assert.Empty(again.Absences);
        var crew = dropped.Crew.With(Crew.Members[0]);
        Assert.Equal(2, PlanningProblem.WeekOf(again, crew).Crew[0].Available.Count);
        Assert.Empty(PlanningProblem.WeekOf(again, crew).Pins);
    }

    [Fact]
    public void A_night_at_whose_end_a_task_is_due_is_not_dropped()
    {
        var due = Given(Tasks(Given().Week.Tasks[0] with { Due = "tuesday" }));
        var faults = due.Revise(Crew, Wanted(due, week => week.WithoutNight("tuesday")), MondayEvening, "lena").AsT2.All;
        Assert.Equal("/tasks/0/due", Assert.Single(faults).Pointer);
    }

    [Fact]
    public void The_launch_the_rules_and_the_goals_are_set_whole()
    {
        var (launch, rules) = (new LocalDateTime(2027, 3, 14, 9, 0), new RuleSet { MinRestMinutes = 600, KeyholderPresent = true });
        var events = Revised(Given(), week => week with
        {
            Launch = launch, Rules = rules, Goals = [new GoalChoice(GoalId.Cost, 5)], Hold = new HoldTarget { Chance = 95 },
        }).Events;
        Assert.Equal(new LaunchMoved(launch), events[0]);
        Assert.True(WeekParts.Same(rules, Assert.IsType<RulesSet>(events[1]).Rules));
        var goals = Assert.IsType<GoalsSet>(events[2]);
        Assert.Equal((95, GoalId.Cost), (goals.Hold.Chance, goals.Goals.Single().Goal));
        var after = Given([.. events]).Week;
        Assert.Equal((launch, 600, 95), (after.Launch, after.Rules.MinRestMinutes, after.Hold.Chance));
    }

    [Fact]
    public void A_zones_room_and_the_count_of_equipment_are_set()
    {
        var floor = Given().Week.Store.Zones[1] with { MaxPeople = 2 };
        Assert.Equal([new ZoneSet(floor), new EquipmentSet(new Equipment("ladder", 0)), new EquipmentSet(new Equipment("hoist", 1))],
            Revised(Given(), week => week.With(floor).With(new Equipment("ladder", 0)).With(new Equipment("hoist", 1))).Events);
    }

    [Fact]
    public void A_task_added_by_a_lead_names_its_author_and_one_from_the_direction_its_version()
    {
        var added = Given().Week.Tasks[0] with { Id = "feature-wall.wash", Name = "Wash the wall", Stints = 1, Needs = [] };
        var revision = Revised(Given(), week => week.With(added));
        var after = Given([.. revision.Events]);
        Assert.Equal(new TaskOrigin("first-rain", 1, Author: "lena"), after.TaskOrigins["feature-wall.wash"]);
        Assert.Equal(new TaskOrigin("first-rain", 1), after.TaskOrigins["feature-wall.paint"]);

        var resized = Revised(Given(), week => WeekChange.Apply(week, [new TaskMinutes("feature-wall.paint", 90)]));
        var revised = Assert.IsType<TasksRevised>(Assert.Single(resized.Events));
        Assert.Equal((90, TaskRevisionKind.Store, "lena"), (revised.Set.Single().Modes[0].Minutes, revised.Kind, revised.By));
        Assert.Equal(new TaskOrigin("first-rain", 1, RevisedBy: "lena"), Given(revised).TaskOrigins["feature-wall.paint"]);
    }

    [Fact]
    public void A_task_is_dropped_with_its_pins_and_what_followed_it_need_not_wait()
    {
        IWeekEvent pin = new Pinned("pin-1", new StintPin("feature-wall.paint") { Night = "monday" });
        var revision = Revised(Given(pin), week => week.WithoutTask("feature-wall.paint"));
        var revised = revision.Events.OfType<TasksRevised>().Single();
        Assert.Equal(("feature-wall.paint", "feature-wall.refit"), (revised.Dropped.Single(), revised.Set.Single().Id));
        Assert.Contains(new Unpinned("pin-1"), revision.Events);
        var after = Given([pin, .. revision.Events]);
        Assert.DoesNotContain("feature-wall.paint", after.TaskOrigins.Keys);
        Assert.Empty(after.Week.Tasks.Single(task => task.Id == "feature-wall.refit").After);
    }

    [Fact]
    public void A_want_that_is_left_out_stays_in_the_week_and_can_be_built_again()
    {
        var revision = Revised(Given(), week => WeekChange.Apply(week, [new LeaveOut("cycle.panel")]));
        Assert.Equal([new DisplayChoiceSet("cycle.panel", DisplayChoice.LeaveOut)], revision.Events);
        var after = Given([.. revision.Events]);
        Assert.Equal(Given().Week.Displays, after.Week.Displays);
        Assert.Contains("cycle.panel", DisplayExclusion.ExcludedFrom(PlanningProblem.WeekOf(after, Crew)));
        var again = after.Revise(Crew, PlanningProblem.WeekOf(after.With("cycle.panel", DisplayChoice.Build), Crew), MondayEvening,
            "lena").AsT0;
        Assert.Equal([new DisplayChoiceSet("cycle.panel", DisplayChoice.Build)], again.Events);
    }

    [Fact]
    public void A_display_that_is_left_out_stays_so_when_one_of_its_tasks_changes()
    {
        var week = Given(new DisplayChoiceSet("cycle.panel", DisplayChoice.LeaveOut));
        var longer = Given().Week.Tasks.Single(task => task.Display == "cycle.panel") with { ClosesZoneMinutes = 10 };
        var revised = Assert.IsType<TasksRevised>(Assert.Single(Revised(week, wanted => wanted.With(longer)).Events));
        Assert.True(WeekParts.Same(longer, revised.Set.Single()));
    }

    /// <summary>Left out, a must counts as a want of value 100. That is part of the decision, not a change of the display.</summary>
    [Fact]
    public void A_must_that_is_left_out_is_a_must_again_once_it_is_built()
    {
        var revision = Revised(Given(), week => WeekChange.Apply(week, [new LeaveOut("feature-wall")]));
        Assert.Equal([new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut)], revision.Events);
        Assert.Equal(DisplayCommitment.Must, Given([.. revision.Events]).Week.Displays[0].Commitment);
        Assert.Empty(Revised(Given([.. revision.Events]), week => week).Events);
    }

    [Fact]
    public void An_alternate_is_chosen_by_one_event_and_so_are_both_left_out()
    {
        IWeekEvent alternate = new DisplaySet(Given().Week.Displays[0] with { Alternate = new Alternate("cycle.panel", 10) });
        Assert.Equal([new DisplayChoiceSet("feature-wall", DisplayChoice.UseAlternate)],
            Revised(Given(alternate), week => WeekChange.Apply(week, [new UseAlternate("feature-wall")])).Events);
        Assert.Equal([new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut)],
            Revised(Given(alternate), week => WeekChange.Apply(week, [new LeaveOut("feature-wall")])).Events);
    }

    [Fact]
    public void The_alternate_of_a_must_that_is_built_instead_of_it_stays()
    {
        var week = Given(new DisplaySet(Given().Week.Displays[0] with { Alternate = new Alternate("cycle.panel", 10) }),
            new DisplayChoiceSet("feature-wall", DisplayChoice.UseAlternate));
        var faults = week.Revise(Crew, Wanted(week, wanted => wanted.With(wanted.Displays[0] with { Alternate = null })),
            MondayEvening, "lena").AsT2.All;
        Assert.Equal("/displays/0/commitment", Assert.Single(faults).Pointer);
    }

    [Fact]
    public void A_display_is_set_and_dropped_with_its_tasks()
    {
        var want = new Display("feature-wall", "Painted wall", DisplayCommitment.Want) { Value = 70 };
        Assert.Equal([new DisplaySet(want)], Revised(Given(), week => week.With(want)).Events);
        var dropped = Revised(Given(), week => week with
        {
            Displays = [week.Displays[0]], Tasks = [.. week.Tasks.Where(task => task.Display == "feature-wall")],
        }).Events;
        Assert.Equal(new DisplayDropped("cycle.panel"), dropped[0]);
        Assert.Equal(["cycle.panel.lean"], Assert.IsType<TasksRevised>(dropped[1]).Dropped);
    }

    [Fact]
    public void A_kits_time_is_expected_or_delayed_and_a_new_kit_is_shipped()
    {
        var noon = new LocalDateTime(2027, 3, 9, 12, 0);
        Assert.Equal([new KitDelayed("paint", noon)], Revised(Given(), Eta("paint", noon)).Events);
        Assert.Equal([new KitDelayed("paint", null)], Revised(Given(), Eta("paint", null)).Events);
        Assert.Equal([new KitExpected("paint", noon.PlusDays(-3))], Revised(Given(), Eta("paint", noon.PlusDays(-3))).Events);
        Assert.Equal([new KitExpected("paint", noon)], Revised(Given(new KitDelayed("paint", null)), Eta("paint", noon)).Events);
        var events = Revised(Given(),
            week => week with { Kits = [.. week.Kits, new Kit("tape", "Tape", noon) { Lines = [new KitLine("roll", 2)] }] }).Events;
        Assert.Equal([new DirectedLine("roll", 2)], Assert.IsType<KitSet>(events[0]).Lines);
        Assert.Equal(noon, Given([.. events]).Week.Kits[1].Eta);
        Assert.Equal(new KitDropped("tape"), Assert.Single(Revised(Given([.. events]),
            week => week with { Kits = [week.Kits[0]] }).Events));
    }

    /// <summary>Three tins came and two are damaged; two are needed. A second delivery brings them, and the count stays a fact.</summary>
    [Fact]
    public void Missing_pieces_that_will_be_delivered_settle_the_line_and_add_a_kit()
    {
        IWeekEvent[] counted = [new KitArrived("r", "paint", At(12, 0)), new KitCounted("paint", At(12, 0), [new("tin", 3, 2)])];
        var by = new LocalDateTime(2027, 3, 9, 20, 0);
        var events = Revised(Given(counted), week => WeekChange.Apply(week, [new MissingPiecesDelivered("paint", "tin", by)])).Events;
        Assert.Equal(["KitLineSettled", "KitSet", "KitExpected", "TasksRevised"], events.Select(e => e.GetType().Name));
        var after = Given([.. counted, .. events]).Week;
        Assert.Equal((3, 2, true), (after.Kits[0].Lines[0].Received, after.Kits[0].Lines[0].Damaged, after.Kits[0].Lines[0].Settled));
        Assert.Equal(by, after.Kits[1].Eta);
    }

    [Fact]
    public void A_count_is_a_fact_that_nobody_decides()
    {
        var faults = Given().Revise(Crew, Wanted(Given(), week => week with
        {
            Kits = [week.Kits[0] with { Lines = [new KitLine("tin", 3) { Received = 3 }] }],
        }), MondayEvening, "lena").AsT2.All;
        Assert.Equal("/kits/0/lines/0/received", Assert.Single(faults).Pointer);
        var arrived = Given(new KitArrived("r", "paint", At(12, 0)), new KitCounted("paint", At(12, 0), [new("tin", 3, 0)]));
        Assert.Equal("kit-arrived", arrived.Revise(Crew, Wanted(arrived, Eta("paint", new(2027, 3, 9, 12, 0))), MondayEvening, "lena")
            .AsT1.Code);
    }

    [Fact]
    public void One_more_person_joins_and_their_particulars_lie_in_the_crew_file()
    {
        var revision = Revised(Given(), week => WeekChange.Apply(week, [new ExtraPerson("monday", "painting", 2)]));
        Assert.Equal([new CrewJoined("one-more.1")], revision.Events);
        Assert.Equal(1300, revision.Crew.Find("one-more.1")!.RatePerHour);
        Assert.True(revision.ConcernsCrew);
    }

    [Fact]
    public void Hours_lost_in_a_whole_night_are_an_absence_and_other_hours_a_change()
    {
        var absent = Revised(Given(), week => WeekChange.Apply(week, [new Absence("p1", "monday")]));
        Assert.Equal([new PersonAbsent("p1", "monday")], absent.Events);
        Assert.Same(Crew, absent.Crew);
        var later = Revised(Given(new PersonAbsent("p1", "monday")),
            week => week with { Crew = [week.Crew[0] with { Available = [new("tuesday", MondayOpens.PlusDays(1).PlusHours(1))] },
                week.Crew[1]] });
        Assert.Equal(["available"], Assert.IsType<CrewChanged>(Assert.Single(later.Events)).Changed);
        // The hours of the absence stay stored, in case it is taken back.
        Assert.Contains(later.Crew.Find("p1")!.Available, entry => entry.Night == "monday");
    }

    [Fact]
    public void Pins_have_ids_and_one_of_an_absent_person_lapses_without_being_taken_away()
    {
        var pin = new ShiftPin("p1", "monday") { Off = true };
        var pinned = Assert.IsType<Pinned>(Assert.Single(Revised(Given(), week => week with { Pins = [pin] }).Events));
        Assert.Equal(new Pinned("pin-1", pin), pinned);
        Assert.Equal([new PersonAbsent("p1", "monday")],
            Revised(Given(pinned), week => WeekChange.Apply(week, [new Absence("p1", "monday")])).Events);
        Assert.Equal([new Unpinned("pin-1")], Revised(Given(pinned), week => week with { Pins = [] }).Events);
        // A number is never used twice.
        Assert.Equal("pin-2", Assert.IsType<Pinned>(Assert.Single(Revised(Given(pinned, new Unpinned("pin-1")),
            week => week with { Pins = [pin] }).Events)).Id);
    }

    /// <summary>A pin on p1 and p2 is a pin on p1 alone while p2 is absent. Both ways to say it name the same pin.</summary>
    [Fact]
    public void A_pin_is_found_as_it_was_set_and_as_it_binds()
    {
        var both = new StintPin("feature-wall.paint") { Night = "monday", People = ["p1", "p2"] };
        var off = new ShiftPin("p2", "monday") { Off = true };
        var week = Given(new Pinned("pin-1", both), new Pinned("pin-2", off), new PersonAbsent("p2", "monday"));
        Assert.Equal("pin-1", week.FindPin(Crew, both with { People = ["p1"] })?.Id);
        Assert.Equal("pin-1", week.FindPin(Crew, both)?.Id);
        Assert.Equal(both, week.FindPin(Crew, both)?.Pin);
        Assert.Equal("pin-2", week.FindPin(Crew, off)?.Id);
        Assert.Null(week.FindPin(Crew, both with { People = ["p2"] }));
    }

    [Fact]
    public void What_stays_in_an_open_week_is_refused_with_its_place()
    {
        var faults = Given().Revise(Crew, Wanted(Given(), week => week with
        {
            Currency = "EUR", GridMinutes = 10, Crew = [week.Crew[1], week.Crew[0]],
            Store = week.Store with { Equipment = [] },
        }), MondayEvening, "lena").AsT2.All;
        Assert.Equal(["/currency", "/gridMinutes", "/store/equipment", "/crew"], faults.Select(fault => fault.Pointer));
    }

    /// <summary>Only p1 can weld. Once p1 is erased, the week has a fault of its own, which stands in no other change's way.</summary>
    [Fact]
    public void A_fault_that_the_week_has_already_stands_in_no_other_changes_way()
    {
        var welder = Crew.With(Crew.Members[0] with { Skills = new Dictionary<string, int> { ["welding"] = 1, ["painting"] = 1 } });
        var weld = Given(Tasks(Given().Week.Tasks[1] with { Modes = [new Mode(60, [new SkillRequirement("welding", 1)])] }));
        var erased = welder.Without("p1");
        Assert.True(WeekFile.Check(PlanningProblem.WeekOf(weld, erased)).IsT1);
        Assert.IsType<LaunchMoved>(Assert.Single(weld.Revise(erased,
            PlanningProblem.WeekOf(weld, erased) with { Launch = new LocalDateTime(2027, 3, 14, 9, 0) }, MondayEvening, "lena")
            .AsT0.Events));
    }

    private static TasksRevised Tasks(params WeekTask[] tasks) =>
        new("first-rain", 1, null, TaskRevisionKind.Store, tasks, [], "lena");

    private static Func<Week, Week> Eta(string kit, LocalDateTime? eta) => week => WeekChange.Apply(week, [new KitEtaMoved(kit, eta)]);

    private static Week Wanted(StoreWeek week, Func<Week, Week> edit) => edit(PlanningProblem.WeekOf(week, Crew));

    private static WeekRevision Revised(StoreWeek week, Func<Week, Week> edit) => Revised(week, Crew, edit);

    private static WeekRevision Revised(StoreWeek week, CrewFile crew, Func<Week, Week> edit) =>
        week.Revise(crew, edit(PlanningProblem.WeekOf(week, crew)), MondayEvening, "lena").Match(
            revision => revision,
            refusal => throw new InvalidOperationException($"{refusal.Sentence} {string.Join(' ', refusal.Because)}"),
            faults => throw new InvalidOperationException(string.Join('\n', faults.All)));
}
