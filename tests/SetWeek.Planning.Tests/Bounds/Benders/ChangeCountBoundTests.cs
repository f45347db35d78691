using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Benders;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Bounds.Benders;

/// <summary>
/// Weeks of a few lines in which the least change follows by hand; the exact model says the same, and the bound reaches it.
/// Nights are two hours long from ten, ann is alone with the work, and the kit that "late" needs has a new date.
/// </summary>
public sealed class ChangeCountBoundTests
{
    /// <summary>
    /// "late" (an hour) leaves the first night: 1. The second is full with "long" (two hours), which so leaves it as well: 1.
    /// In the first night ann is on for the hour that "late" took, and stays longer: 1. Minutes of whole nights say it.
    /// </summary>
    [Fact]
    public void What_comes_into_a_full_night_sends_something_out_of_it() => Least(3, Late(Evening(1)) with
    {
        Tasks = [Needing("late", 60), Task("long", 120)],
    }, [new(0, 0, 0, 60), new(1, 1, 0, 120)]);

    /// <summary>The kit comes an hour into the only night, and ann goes home then: her shift moves, by its hours alone.</summary>
    [Fact]
    public void A_shift_that_ends_before_the_kit_comes_moves() => Least(1, Late(Evening(0, 60)) with
    {
        Tasks = [Needing("late", 60)],
    }, [new(0, 0, 0, 60)], nights: 1);

    /// <summary>
    /// "late" leaves the first night: 1. In the second there are two hours for it and "drill" (an hour each), but drilling is
    /// allowed from half past ten to half past eleven only, and what is left is two halves. So "drill" makes place: 1, into the
    /// hour that "late" had. Only hours say that: a cut against "late" beside "drill".
    /// </summary>
    [Fact]
    public void What_comes_into_a_night_with_time_in_two_halves_sends_something_out_of_it()
    {
        var week = Late(Evening(1));
        Least(2, week with
        {
            Nights = [week.Nights[0], week.Nights[1] with
            {
                Bans = [new("noisy", Evening(1), Evening(1, 30)), new("noisy", Evening(1, 90), Evening(1, 120))],
            }],
            Tasks = [Needing("late", 60), Task("drill", 60) with { Traits = ["noisy"] }],
        }, [new(0, 0, 0, 60), new(1, 1, 30, 90)], on: [(0, 0, 60), (1, 0, 120)]);
    }

    /// <summary>
    /// bob, who could do "late" in the second night while ann is on "long", works one night and no more: adding him there (2)
    /// takes him off the first (2). It is less to send "long" into the first night (1, and 1 for ann's longer shift), after
    /// "late" (1).
    /// </summary>
    [Fact]
    public void Who_may_not_work_another_night_is_added_for_the_price_of_a_shift_dropped()
    {
        var week = Late(Evening(1));
        Least(3, week with
        {
            Crew = [Person("ann", 2), Person("bob", 2) with { MaxNights = 1 }],
            Tasks = [Needing("late", 60), Task("long", 120), Task("beside", 60)],
        }, [new(0, 0, 0, 60), new(1, 1, 0, 120), new(2, 0, 0, 60, Person: 1)]);
    }

    private sealed record PublishedStint(int Task, int Night, int From, int To, int Person = 0);

    private static Week Late(NodaTime.LocalDateTime eta) => Week(2) with
    {
        Crew = [Person("ann", 2)], Kits = [new("kit", "Kit", eta)],
    };

    private static WeekTask Needing(string id, int minutes) => Task(id, minutes) with { Needs = [new KitRequirement("kit")] };

    /// <param name="least">Argued at the test.</param>
    /// <param name="week">As it now stands.</param>
    /// <param name="published">By task, night, minutes after its opens, and person.</param>
    /// <param name="on">Ann's shifts by night, in minutes after opens; null: as long as what is worked in them.</param>
    /// <param name="nights">Of the week.</param>
    private static void Least(long least, Week week, PublishedStint[] published, (int Night, int From, int To)[]? on = null,
        int nights = 2)
    {
        week = week with { Nights = [.. week.Nights.Take(nights)], Crew = [.. week.Crew.Select(member => member with
        {
            Available = [.. member.Available.Take(nights)],
        })] };
        var before = Problem.Of(week);
        var plan = new Schedule
        {
            Work = [.. published.Select(piece => new ScheduledWork(piece.Night, piece.Task, 0, 0, At(piece.Night, piece.From),
                At(piece.Night, piece.To), [new Assignment(piece.Person, 0)]))],
            Shifts = [.. (on?.Select(shift => (Person: 0, shift.Night, shift.From, shift.To))
                ?? published.Select(piece => (piece.Person, piece.Night, piece.From, piece.To)))
                .Select(shift => new ScheduledShift(shift.Person, shift.Night, At(shift.Night, shift.From), At(shift.Night, shift.To),
                    null))],
            Keyholders = new int?[nights],
        };
        var problem = Problem.Of(week, new Replan(new Plan
        {
            Week = week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(before, plan),
        }, Evening(0, -600), []));
        Assert.Equal(least, CpOptimum.Best(problem)![1]);
        var incumbent = new Incumbent(problem);
        Assert.True(incumbent.Offer(CpOptimum.Plan(problem)!));
        new ChangeCountBound(problem, RootPropagation.Of(problem), incumbent, 1).Raise(incumbent.CapsFor(1),
            new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None), 5);
        Assert.Equal(least, incumbent.Bounds()[1]);

        int At(int night, int minute) => before.Nights[night].Opens + minute;
    }
}
