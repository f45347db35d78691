using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// Where a break may lie, on weeks small enough to count by hand. Nights last from 22:00 to 02:00, an hour costs 12.00, breaks are unpaid.
/// Half an hour of break is due in shifts longer than two hours.
/// </summary>
public class BreakPlacementTests
{
    private static readonly RuleSet Breaks = new() { BreakAfterMinutes = 120, BreakMinutes = 30 };

    private static readonly TinyWeek Week = TinyWeek.New
        .With(week => week with { GridMinutes = 30, Nights = [week.Nights[0]], Goals = [new(GoalId.Cost)] })
        .Night("mon", night => night with { Closes = night.Opens.PlusHours(4) })
        .Person("ana", OnMonday).Person("bo", Never).Person("cy", Never);

    [Theory]
    [InlineData("between two pieces", 3600)]
    [InlineData("while the first piece dries", 3000)]
    [InlineData("beside a single piece", 2400)]
    [InlineData("clear of both ends", 3000)]
    [InlineData("after opening", 3000)]
    [InlineData("of the second keyholder", 4800)]
    public void The_cheapest_plan_costs_what_counting_by_hand_says(string where, long cost)
    {
        var problem = WeekOf(where).Problem;
        Assert.Equal([cost], PlanEnumeration.BestOf(problem) ?? []);
        Assert.Equal([cost], CpOptimum.Best(problem) ?? []);
        var incumbent = new Incumbent(problem);
        new HeuristicSearch(problem, incumbent, new Budget(new SearchLimits { Effort = 1, Workers = 1 }, CancellationToken.None))
            .FindFirst();
        Assert.NotNull(incumbent.Best);
    }

    private static TinyWeek WeekOf(string where) => where switch
    {
        // Two pieces of 90 minutes and half an hour between them.
        "between two pieces" => Week.Rules(Breaks).Task("a", 90).Task("b", 90),
        // Three hours in all; half an hour of the drying is the break, the other half is paid.
        "while the first piece dries" => Week.Rules(Breaks).Task("a", 60).Task("b", 60, "a", dry: 60),
        // A shift of 150 minutes less its break, which may lie at either end.
        "beside a single piece" => Week.Rules(Breaks with { MinShiftMinutes = 150 }).Task("a", 90),
        // An hour of waiting, the break and the work: on the grid, 45 minutes are an hour.
        "clear of both ends" => Week.Rules(Breaks with { MinShiftMinutes = 150, BreakClearMinutes = 45 }).Task("a", 90),
        // Half an hour each for opening, break and closing, and the work.
        "after opening" => Week.Rules(WithOpening).Task("a", 90),
        // Both are keyholders and there for 150 minutes. Bo works while ana has her break, and has his while she opens: the plan
        // names ana, so opening is no work of his.
        "of the second keyholder" => Week.Person("bo", OnMonday).Rules(WithOpening with { MinPeople = 2 }).Task("a", 90),
        _ => throw new ArgumentException(where),
    };

    private static RuleSet WithOpening =>
        Breaks with { KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30 };

    private static CrewMember OnMonday(CrewMember member) => member with { Available = [new("mon")] };

    private static CrewMember Never(CrewMember member) => member with { Available = [] };
}
