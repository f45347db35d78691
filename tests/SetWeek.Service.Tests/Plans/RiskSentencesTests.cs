using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Words;

namespace SetWeek.Service.Tests.Plans;

/// <summary>What users read of the changes and moves that were tried.</summary>
public sealed class RiskSentencesTests
{
    private static readonly Week Week =
        WeekFile.Read(File.ReadAllBytes(Repository.PathOf("docs", "examples", "bell-yard.week.json"))).AsT0;

    [Fact]
    public void The_best_move_for_a_chain_is_stated_with_its_number_and_that_of_a_new_plan_without_it()
    {
        var advice = Advice(6000) with { Best = new SecuringMove("A begins at 22:00.", [], [], Reached(9000)) };
        Assert.Equal("To leave nothing half-secured: A begins at 22:00. A new plan then leaves nothing half-secured in 90.0 % "
            + "(95 % interval: 89.4 to 90.6 %), for £123.00 in wages. Without it, a new plan does so in 60.0 % of "
            + "10,000 simulated weeks (95 % interval: 59.0 to 61.0 %). Also tried: B. (61.0 %) C. (no plan found)", Sentence(advice));
    }

    [Fact]
    public void Where_no_move_helps_the_sentence_says_so()
    {
        Assert.StartsWith("No move that was tried for ", Sentence(Advice(6000)));
        Assert.EndsWith("Also tried: B. (61.0 %) C. (no plan found)", Sentence(Advice(6000)));
    }

    [Fact]
    public void Where_a_new_plan_reaches_the_target_the_sentence_says_to_request_it() =>
        Assert.Equal("Planned again as it is, the week leaves nothing half-secured in 90.0 % of 10,000 simulated weeks "
            + "(95 % interval: 89.4 to 90.6 %): request a new plan.", Sentence(Advice(9000)));

    [Fact]
    public void A_week_without_the_goal_hold_asks_for_no_chance()
    {
        var chance = new HoldChance(new(9000, 10_000), new(10_000, 10_000), 80, 30, null);
        Assert.StartsWith("The plan holds in 90.0 % of 10,000 simulated weeks (95 % interval: 89.4 to 90.6 %). It holds if",
            new ChanceSentences(Week).Of(chance).First());
        var asking = Week with { Goals = [new(GoalId.Hold), .. Week.Goals] };
        Assert.Contains("; the week asks for 80 %. It holds if", new ChanceSentences(asking).Of(chance).First());
    }

    private static string Sentence(SecuringAdvice advice) => new RiskSentences(Week).Secures(advice);

    private static SecuringAdvice Advice(int replanned) => new("wall.first-coat", "wall.second-coat", 80, Reached(replanned), null,
        [new SecuringMove("B.", [], [], Reached(6100)), new SecuringMove("C.", [], [], null)]);

    private static ReplannedWeek Reached(int secured) => new(new(secured, 10_000), new(secured, 10_000), 12_300);
}
