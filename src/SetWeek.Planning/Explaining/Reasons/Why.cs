using NodaTime;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Explains why a stint has its time and its people. docs/decisions/why.md defines the three questions. Each answer is a result
/// of the check, of propagation or of a solve.
/// </summary>
/// <param name="Task">The id of the task.</param>
/// <param name="Stint">The number of the stint within the task, from 1.</param>
/// <param name="Night">The id of the night that the stint is planned in.</param>
/// <param name="From">Its planned start.</param>
/// <param name="To">Its planned end.</param>
/// <param name="Here">Why it does not start earlier while the rest of the plan stays as it is.</param>
/// <param name="AtAll">How early it can start in any valid plan of the week; null if it has begun.</param>
/// <param name="People">The people on it, and who could replace them; empty if it has begun.</param>
public sealed record Why(
    string Task, int Stint, string Night, OffsetDateTime From, OffsetDateTime To, LeftShiftExplanation Here,
    EarliestStartExplanation? AtAll, IReadOnlyList<AssignmentExplanation> People)
{
    /// <summary>The shares of the remaining budget for the first two questions; the third gets the rest.</summary>
    private const double LeftShiftShare = 0.3, EarliestStartShare = 0.5;

    /// <summary>Explains a stint of a plan; null if the plan does not have the stint.</summary>
    /// <param name="problem">The problem of the plan; with the facts if it is a re-plan.</param>
    /// <param name="plan">A plan of the problem. Breaches that it already has do not count as reasons.</param>
    /// <param name="task">The id of a task of the week.</param>
    /// <param name="stint">The number of the stint within the task, from 1.</param>
    /// <param name="limits">Limits of the whole explanation. Parts that need longer are marked as not proven.</param>
    /// <param name="stop">Ends the explanation as if its limits were reached.</param>
    public static Why? Of(
        Problem problem, Plan plan, string task, int stint, SearchLimits limits, CancellationToken stop = default)
    {
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        var index = problem.Tasks[problem.TaskOf(task)].FirstStint + stint - 1;
        if (schedule.Work.FirstOrDefault(work => work.Stint == index) is not { } work) return null;
        var (subject, budget) = (new ExplanationSubject(problem, schedule, work), new Budget(limits, stop));
        var (here, open) = LeftShiftAnalysis.Of(subject, budget.CreateChild(budget.Remaining * LeftShiftShare));
        EarliestStartExplanation? atAll = null;
        IReadOnlyList<AssignmentExplanation> people = [];
        if (!subject.Begun)
        {
            var part = budget.CreateChild(budget.Remaining * EarliestStartShare);
            atAll = EarliestStartSearch.Of(subject, open, part);
            budget.Charge(part.Used);
            people = SubstituteSearch.Of(subject, budget);
        }
        var (from, to) = (problem.Grid.TimeOf(work.From), problem.Grid.TimeOf(work.To));
        return new Why(task, stint, problem.Nights[work.Night].Id, from, to, here, atAll, people);
    }
}

/// <summary>What stops a stint from starting earlier while the rest of the plan stays as it is.</summary>
/// <param name="Holds">
/// An irreducible set of rule instances that block every examined earlier start that is not open; the nearest start comes first.
/// </param>
/// <param name="Open">The earliest start that breaks no rule; null if every earlier start breaks one.</param>
/// <param name="OpenStarts">The number of earlier starts that break no rule.</param>
/// <param name="LookedBackTo">
/// Null: all earlier starts were examined. Otherwise the earliest one examined before time ran out.
/// </param>
public sealed record LeftShiftExplanation(
    IReadOnlyList<BlockingRule> Holds, EarlierStart? Open, int OpenStarts, OffsetDateTime? LookedBackTo);

/// <summary>An earlier start of a stint in another plan.</summary>
/// <param name="Night">The id of its night.</param>
/// <param name="From">Its start.</param>
/// <param name="People">The people on it.</param>
/// <param name="Goals">The goals of the plan, compared with the current ones.</param>
public sealed record EarlierStart(
    string Night, OffsetDateTime From, IReadOnlyList<PlannedPerson> People, IReadOnlyList<GoalDifference> Goals);

/// <summary>How early a stint can start in any valid plan of the week that includes it.</summary>
/// <param name="NotBefore">A proven lower bound: no plan starts it earlier.</param>
/// <param name="Because">
/// The reason for the bound: the longest path to the stint, from the stint back to a fact. Otherwise rule instances that conflict
/// with an earlier start. Empty if only a solve proves the bound.
/// </param>
/// <param name="Found">The earliest start of any plan found, at most the current one.</param>
/// <param name="Earlier">The best plan found that starts it earlier than now; null if none was found.</param>
/// <param name="Proven">
/// True if <paramref name="Earlier"/> has the best goals of all plans that start it earlier, or if it is null and no plan does.
/// </param>
public sealed record EarliestStartExplanation(
    OffsetDateTime NotBefore, IReadOnlyList<BlockingRule> Because, OffsetDateTime Found, EarlierStart? Earlier, bool Proven)
{
    /// <summary>True if <see cref="Because"/> is a conflict that is not proven irreducible.</summary>
    public bool MayHoldMore { get; init; }
}

/// <summary>Why a person is on a stint: who could replace them.</summary>
/// <param name="Person">The id of the person.</param>
/// <param name="Skill">The id of the skill that they are assigned for.</param>
/// <param name="Others">All other people of the crew who are not on the stint, in crew order.</param>
public sealed record AssignmentExplanation(string Person, string Skill, IReadOnlyList<Substitute> Others);

/// <summary>Whether a person could replace another on a stint while all work keeps its times.</summary>
/// <param name="Person">The id of the substitute.</param>
/// <param name="Stopped">The rules that a plain exchange breaks; empty if it breaks none.</param>
/// <param name="Goals">The goals of the best plan found with the substitute; null if none was found.</param>
/// <param name="Rearranged">True if that plan changes other assignments or shifts of the night.</param>
/// <param name="Proven">
/// True if no plan with the substitute has better goals, or none exists; false if time ran out before a proof.
/// </param>
public sealed record Substitute(
    string Person, IReadOnlyList<BlockingRule> Stopped, IReadOnlyList<GoalDifference>? Goals, bool Rearranged, bool Proven);
