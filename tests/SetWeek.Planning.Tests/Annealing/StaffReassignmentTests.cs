using SetWeek.Model.Checking;
using SetWeek.Model.Durations;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Annealing;

/// <summary>People are exchanged where their times and shifts allow it.</summary>
public class StaffReassignmentTests
{
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with { Nights = [week.Nights[0]] })
        .Person("ana", OnMonday).Person("bo", OnMonday).Person("cy", member => member with { Available = [] })
        .Task("dress", 120, task => task with { Stints = 2 })
        .Task("sign", 60, task => task with { Zone = "floor" }).Task("price", 60, task => task with { Zone = "floor" })
        .With(week => week with { Goals = [new(GoalId.Handovers), new(GoalId.Moves)] });

    /// <summary>At 23:00 Ana and Bo change places: dressing is handed over, and both change zones.</summary>
    private static TinyPlan Crossing(TinyWeek week) => week.Plan
        .Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "22:00", "00:00")
        .Stint("mon", "dress", 1, 0, "22:00", "23:00", "ana").Stint("mon", "dress", 2, 0, "23:00", "00:00", "bo")
        .Work("mon", "sign", "22:00", "23:00", "bo").Work("mon", "price", "23:00", "00:00", "ana");

    [Fact]
    public void People_who_change_places_for_nothing_stay()
    {
        Assert.Equal((1, 2), Goals(Crossing(Week)));
        Assert.Equal((0, 0), Goals(Reassigned(Crossing(Week))));
    }

    /// <summary>Only Bo can sign and only Ana can price, so the exchange is left as it is.</summary>
    [Fact]
    public void Work_goes_only_to_people_with_the_skill()
    {
        var week = Week.Person("bo", bo => bo with { Skills = new Dictionary<string, int> { ["hands"] = 2, ["signs"] = 1 } })
            .Person("ana", ana => ana with { Skills = new Dictionary<string, int> { ["hands"] = 2, ["prices"] = 1 } })
            .With(week => week with
            {
                Tasks = [.. week.Tasks.Select(task => task.Id switch
                {
                    "sign" => task with { Modes = [new(60, [new("signs", 1)])] },
                    "price" => task with { Modes = [new(60, [new("prices", 1)])] },
                    _ => task,
                })],
            });
        Assert.Equal((1, 2), Goals(Reassigned(Crossing(week))));
    }

    /// <summary>Bo's shift ends at 23:00, so Ana cannot leave pricing to him.</summary>
    [Fact]
    public void Nobody_works_beyond_their_shift()
    {
        var plan = Week.Plan.Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "22:00", "23:00")
            .Stint("mon", "dress", 1, 0, "22:00", "23:00", "ana").Work("mon", "sign", "22:00", "23:00", "bo")
            .Work("mon", "price", "23:00", "00:00", "ana");
        // Exchanged, Ana signs and prices on the floor, and Bo dresses.
        Assert.Equal((0, 0), Goals(Reassigned(plan)));
        Assert.All(Reassigned(plan).Schedule.Work.Where(work => work.To > 60), work =>
            Assert.Equal(0, Assert.Single(work.Assignments).Person));
    }

    [Fact]
    public void A_generated_plan_keeps_every_rule_and_its_cost()
    {
        var week = PlannerTests.Generated("medium", 4) with { Goals = [new(GoalId.Moves), new(GoalId.Handovers)] };
        var problem = Problem.Of(week);
        var incumbent = new Incumbent(problem);
        new HeuristicSearch(problem, incumbent,
            new Budget(new SearchLimits { Effort = 0.05, Workers = 1 }, CancellationToken.None)).FindFirst();
        var before = new TinyPlan(problem, incumbent.Best!);
        var after = Reassigned(before);
        Assert.Empty(Checker.Check(problem, after.Schedule));
        Assert.Equal(before.Goal(GoalId.Cost), after.Goal(GoalId.Cost));
        Assert.True(after.Goal(GoalId.Moves) < before.Goal(GoalId.Moves), $"{before.Goal(GoalId.Moves)} moves are left");
    }

    /// <summary>What a person's work adds to the moves is what the goal loses when it is taken away.</summary>
    [Fact]
    public void Added_moves_are_those_that_the_goal_counts()
    {
        var problem = Problem.Of(PlannerTests.Generated("small", 3));
        var plan = PlanConverter.ScheduleOf(problem,
            Planner.Plan(problem.Week, new SearchLimits { Effort = 0.1, Workers = 1 }));
        var (compact, schedule) = Read(problem, plan);
        foreach (var work in plan.Work.Where(work => work is { Stint: not null, Assignments.Count: > 0 }))
        {
            var without = plan with { Work = [.. plan.Work.Where(other => other != work)] };
            var removed = AllGoals.Of(GoalId.Moves).Measure(problem, plan) - AllGoals.Of(GoalId.Moves).Measure(problem, without);
            var (stint, mode) = (work.Stint!.Value, schedule.Mode[work.Stint.Value]);
            var (night, start, end) = (schedule.Night[stint], schedule.StartSlot[stint], schedule.EndSlot[stint]);
            var people = schedule.PeopleOf(stint).ToArray();
            schedule.Remove(stint);
            Assert.Equal(removed, people.Sum(person =>
                schedule.AddedMoves(person, night, start, end, compact.Activities[stint].Zone)));
            schedule.Insert(stint, mode, night, start, people);
        }
    }

    private static TinyPlan Reassigned(TinyPlan plan)
    {
        var (compact, schedule) = Read(plan.Problem, plan.Schedule);
        new StaffReassignment(compact, new ShortestShift(compact), new SplitMix64(1), new()).Improve(schedule);
        return plan with { Schedule = ScheduleCompletion.Of(compact, schedule) };
    }

    private static (CompactProblem, PartialSchedule) Read(Problem problem, Schedule plan)
    {
        var compact = new CompactProblem(problem);
        var schedule = new PartialSchedule(compact);
        new PartialScheduleReader(compact, new ShortestShift(compact)).Read(schedule, InitialPartialSchedule.Of(compact), plan);
        return (compact, schedule);
    }

    private static (long Handovers, long Moves) Goals(TinyPlan plan) => (plan.Goal(GoalId.Handovers), plan.Goal(GoalId.Moves));

    private static CrewMember OnMonday(CrewMember member) => member with { Available = [new("mon")] };
}
