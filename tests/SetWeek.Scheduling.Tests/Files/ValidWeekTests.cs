using System.Text;
using CsCheck;
using SetWeek.Bench;
using SetWeek.Scheduling.Files;
using Xunit;

namespace SetWeek.Scheduling.Tests.Files;

/// <summary>Whatever the reader lets through, a problem can be made of; whatever it is given, it answers.</summary>
public class ValidWeekTests
{
    [Fact]
    public void A_problem_can_be_made_of_every_week_that_is_accepted()
    {
        var accepted = 0;
        foreach (var mutation in Mutations.Of(Examples.Read("bell-yard.week.json"), othersEach: 2))
            if (WeekFile.Read(Encoding.UTF8.GetBytes(mutation.Text.GetRawText())).TryPickT0(out var week, out _))
            {
                accepted++;
                var problem = Problem.Of(week);
                Checker.Check(problem, PlanTimes.ScheduleOf(problem, Examples.Plan));
            }
        Assert.InRange(accepted, 50, int.MaxValue);
    }

    [Fact]
    public void A_problem_can_be_made_of_every_generated_week() =>
        Gen.Int[0, 10_000].Sample(seed => Problem.Of(WeekFile.Check(WeekGenerator.Make(WeekGenerator.Size.Small, seed)).AsT0), iter: 10);

    [Fact]
    public void Bytes_put_wrong_anywhere_are_answered_and_never_thrown_at()
    {
        var good = Examples.Read("bell-yard.week.json");
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte).Array[1, 4].Sample(changes =>
        {
            var bytes = good.ToArray();
            foreach (var (at, value) in changes) bytes[at] = value;
            if (WeekFile.Read(bytes).TryPickT0(out var week, out _)) Problem.Of(week);
        }, iter: 500);
    }
}
