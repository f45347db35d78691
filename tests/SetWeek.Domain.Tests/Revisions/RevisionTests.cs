using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;
using static SetWeek.Domain.Tests.Revisions.RevisedWeek;

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
}
