using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>
/// The chance that a plan holds (the goal hold), measured on runs that the search has not seen. The scenarios of the search
/// overstate it, because the search prefers plans that suit them.
/// </summary>
/// <param name="Holds">
/// Launch and every due are met, every night closes in time, and nothing is left half-secured for a morning.
/// </param>
/// <param name="Secured">Nothing is left half-secured for a morning.</param>
/// <param name="AskedPercent">The chance that the week asks for, in percent.</param>
/// <param name="GraceMinutes">Minutes by which work may end later than the rules allow a plan.</param>
/// <param name="HalfSecured">The work that is left half-secured most often; null if none ever is.</param>
public sealed record HoldChance(
    EstimatedProbability Holds, EstimatedProbability Secured, int AskedPercent, int GraceMinutes, HalfSecured? HalfSecured)
{
    /// <summary>The standard error of the chance is then at most half a percentage point.</summary>
    public const int MeasuredRuns = 10_000;

    /// <summary>The chance, in percent, with which nothing should be left half-secured. It is a matter of safety.</summary>
    public int SecuredTargetPercent() => Math.Max(AskedPercent, HoldTarget.DefaultChance);

    /// <summary>True if something is left half-secured more often than that allows.</summary>
    public bool IsLeftHalfSecured() => HalfSecured is not null && Secured.Share * 100 < SecuredTargetPercent();

    /// <summary>Measures a plan on fresh runs.</summary>
    /// <param name="problem">The week.</param>
    /// <param name="schedule">The plan.</param>
    /// <param name="share">The share of the usual runs to make, above 0, where time is short.</param>
    public static HoldChance Of(Problem problem, Schedule schedule, double share = 1)
    {
        var (hold, count) = (problem.Week.Hold, (int)Math.Ceiling(MeasuredRuns * share));
        var runs = HeldScenarios.Of(problem, schedule, new RiskOptions
        {
            Runs = count, Seed = hold.Seed, GraceMinutes = hold.GraceMinutes,
        });
        return new HoldChance(new(runs.Held, count), new(runs.Secured, count), hold.Chance, hold.GraceMinutes,
            runs.MostOftenHalfSecured is { } chain
                ? new HalfSecured(problem.Tasks[chain.Before].Id, problem.Tasks[chain.After].Id, new(chain.Scenarios, count))
                : null);
    }
}

/// <summary>Work that has to follow other work in the same night, and does not.</summary>
/// <param name="Task">The id of the task that is done.</param>
/// <param name="Next">The id of the task that would secure it.</param>
/// <param name="Probability">How often it is left so for the morning.</param>
public sealed record HalfSecured(string Task, string Next, EstimatedProbability Probability);
