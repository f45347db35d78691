using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Benders;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Bounds.Benders;

/// <summary>
/// Very small weeks whose minimum number of changes is derived by hand. The exact model has the same optimum, and the bound
/// reaches it. Nights last two hours from 22:00, Ann does all the work, and the kit that task "late" needs has a new date.
/// </summary>
public sealed class ChangeCountBoundTests
{
    /// <summary>
    /// Task "late" takes an hour and leaves the first night: 1. The second night is full with "long", two hours, which has to
    /// leave it: 1. Ann's shift in the first night becomes longer for "long": 1. Minutes of whole nights prove this bound.
    /// </summary>
    [Fact]
    public void Work_moved_into_a_full_night_moves_other_work_out() => AssertMinimum(3, Late(Evening(1)) with
    {
        Tasks = [Needing("late", 60), Task("long", 120)],
    }, [new(0, 0, 0, 60), new(1, 1, 0, 120)]);

    /// <summary>
    /// The kit comes an hour after the only night opens, when Ann's published shift ends, so her shift changes.
    /// </summary>
    [Fact]
    public void A_shift_that_ends_before_the_kit_comes_changes() => AssertMinimum(1, Late(Evening(0, 60)) with
    {
        Tasks = [Needing("late", 60)],
    }, [new(0, 0, 0, 60)], nights: 1);

    /// <summary>
    /// Task "late" leaves the first night: 1. The second night has two hours for it and for "drill", an hour each. Drilling is
    /// allowed from 22:30 to 23:30 only, which leaves two half-hours. So "drill" moves to the first night: 1. Minutes of whole
    /// nights do not prove this; a Benders cut on "late" and "drill" in one night does.
    /// </summary>
    [Fact]
    public void Work_moved_into_a_night_with_two_short_gaps_moves_other_work_out()
    {
        var week = Late(Evening(1));
        AssertMinimum(2, week with
        {
            Nights = [week.Nights[0], week.Nights[1] with
            {
                Bans = [new("noisy", Evening(1), Evening(1, 30)), new("noisy", Evening(1, 90), Evening(1, 120))],
            }],
            Tasks = [Needing("late", 60), Task("drill", 60) with { Traits = ["noisy"] }],
        }, [new(0, 0, 0, 60), new(1, 1, 30, 90)], shifts: [(0, 0, 0, 60), (0, 1, 0, 120)]);
    }

    /// <summary>
    /// Bob could do "late" in the second night beside Ann on "long", but he may work one night only: adding that shift (2)
    /// drops his first (2). It is better to move "late" to the second night (1) and "long" to the first (1), with a longer
    /// shift of Ann (1).
    /// </summary>
    [Fact]
    public void A_person_at_the_maximum_of_nights_needs_a_dropped_shift_for_a_new_one()
    {
        var week = Late(Evening(1));
        AssertMinimum(3, week with
        {
            Crew = [Person("ann", 2), Person("bob", 2) with { MaxNights = 1 }],
            Tasks = [Needing("late", 60), Task("long", 120), Task("beside", 60)],
        }, [new(0, 0, 0, 60), new(1, 1, 0, 120), new(2, 0, 0, 60, Person: 1)]);
    }

    /// <summary>
    /// Task "lift" needs a second person in its zone, and "late" was that company. "late" leaves the first night: 1. The task
    /// "new", which was not published, takes its place beside "lift", at no change. So the first night without the new work would
    /// break the rule, and the bound must not count that as a change.
    /// </summary>
    [Fact]
    public void Work_that_was_not_published_can_be_the_company_of_work_that_stays() => AssertMinimum(1, Late(Evening(1)) with
    {
        Crew = [Person("ann", 2), Person("bob", 2)],
        Rules = new RuleSet { Company = [new("lifting", 2)] },
        Tasks = [Needing("late", 60), Task("lift", 60) with { Traits = ["lifting"], Due = "n1" }, Task("new", 60)],
    }, [new(0, 0, 0, 60, Person: 1), new(1, 0, 0, 60)], shifts: [(0, 0, 0, 60), (1, 0, 0, 60), (1, 1, 0, 60)],
        inWorsePlan: week => week with { Crew = [week.Crew[0], Person("bob", 1)] });

    /// <summary>
    /// Ann's first piece of work, "late", leaves the first night: 1. The break of half an hour must lie between two pieces, and
    /// drilling is allowed from 23:00 to 24:00 only, which two tasks fill. So "new" has to come before the break, at no change.
    /// </summary>
    [Fact]
    public void Work_that_was_not_published_can_be_the_piece_before_a_break() => AssertMinimum(1, Late(Evening(1)) with
    {
        Nights = [Week(2).Nights[0] with { Bans = [new("noisy", Evening(0), Evening(0, 60))] }, Week(2).Nights[1]],
        Rules = new RuleSet { BreakAfterMinutes = 90, BreakMinutes = 30, MinShiftMinutes = 90 },
        Tasks =
        [
            Needing("late", 30), Task("new", 30), Task("drill-1", 30) with { Traits = ["noisy"], Due = "n1" },
            Task("drill-2", 30) with { Traits = ["noisy"], Due = "n1" },
        ],
    }, [new(0, 0, 0, 30), new(2, 0, 60, 90), new(3, 0, 90, 120)],
        shifts: [(0, 0, 0, 120), (0, 1, 0, 120)], breakFrom: 30,
        inWorsePlan: week => week with
        {
            Crew = [Person("ann", 1) with { Available = [new("n1"), new("n2", Evening(1, 30))] }],
            Rules = week.Rules with { MinShiftMinutes = 90 },
        });

    /// <summary>
    /// Ann is absent in the first night: her shift is dropped (2). Bob does her work after his own, with a longer shift (1). In
    /// the second night there is no room for it.
    /// </summary>
    [Fact]
    public void Work_of_an_absent_person_makes_another_shift_longer()
    {
        var week = Week(2);
        AssertMinimum(3, week with
        {
            Crew = [Person("ann", 2) with { Available = [new("n2")] }, Person("bob", 2)],
            Tasks = [Task("ann", 60), Task("bob", 60), Task("long", 120)],
        }, [new(0, 0, 0, 60), new(1, 0, 0, 60, Person: 1), new(2, 1, 0, 120, Person: 1)],
            shifts: [(0, 0, 0, 60), (1, 0, 0, 60), (1, 1, 0, 120)]);
    }

    private sealed record PublishedStint(int Task, int Night, int From, int To, int Person = 0);

    private static Week Late(NodaTime.LocalDateTime eta) => Week(2) with
    {
        Crew = [Person("ann", 2)], Kits = [new("kit", "Kit", eta)],
    };

    private static WeekTask Needing(string id, int minutes) => Task(id, minutes) with { Needs = [new KitRequirement("kit")] };

    /// <param name="minimum">The least number of changes, derived at each test.</param>
    /// <param name="week">The week as it is now.</param>
    /// <param name="published">The published work, in minutes after the opening of its night.</param>
    /// <param name="shifts">The published shifts, in minutes after the opening; null: shifts as long as the work.</param>
    /// <param name="nights">The number of nights of the week.</param>
    /// <param name="inWorsePlan">
    /// Restricts the week so that its best plan has more changes. The bound starts from that plan, which leaves it something to
    /// prove; null: it starts from the optimum.
    /// </param>
    /// <param name="breakFrom">Start of the break of half an hour in the first of these shifts; null: no break.</param>
    private static void AssertMinimum(long minimum, Week week, PublishedStint[] published,
        (int Person, int Night, int From, int To)[]? shifts = null, int nights = 2, int? breakFrom = null,
        Func<Week, Week>? inWorsePlan = null)
    {
        week = week with { Nights = [.. week.Nights.Take(nights)], Crew = [.. week.Crew.Select(member => member with
        {
            Available = [.. member.Available.Take(nights)],
        })],
            // The exact model, which gives the optimum here, does not know the goal hold.
            ReplanGoals = [.. Model.Weeks.Week.DefaultReplanGoals.Where(choice => choice.Goal != GoalId.Hold)] };
        var before = Problem.Of(week);
        var plan = new Schedule
        {
            Work = [.. published.Select(work => new ScheduledWork(work.Night, work.Task, 0, 0, At(work.Night, work.From),
                At(work.Night, work.To), [new Assignment(work.Person, 0)]))],
            Shifts = [.. (shifts ?? published.Select(work => (work.Person, work.Night, work.From, work.To)))
                .Select((shift, index) => new ScheduledShift(shift.Person, shift.Night, At(shift.Night, shift.From),
                    At(shift.Night, shift.To), index == 0 && breakFrom is { } minute
                        ? new Span(At(shift.Night, minute), At(shift.Night, minute + 30)) : null))],
            Keyholders = new int?[nights],
        };
        var replan = new Replan(new Plan
        {
            Week = week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(before, plan),
        }, Evening(0, -600), []);
        var problem = Problem.Of(week, replan);
        Assert.Equal(minimum, CpOptimum.Best(problem)![1]);
        var incumbent = new Incumbent(problem);
        Assert.True(incumbent.Offer(CpOptimum.Plan(inWorsePlan is null ? problem : Problem.Of(inWorsePlan(week), replan))!));
        Assert.True(inWorsePlan is null || incumbent.Values![1] > minimum, "The plan to start from is no worse.");
        new ChangeCountBound(problem, RootPropagation.Of(problem), incumbent, 1).Raise(incumbent.CapsFor(1),
            new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None), 5);
        Assert.Equal(minimum, incumbent.Bounds()[1]);

        int At(int night, int minute) => before.Nights[night].Opens + minute;
    }
}
