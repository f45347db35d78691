using NodaTime;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Why a stint is when it is and with those people: docs/decisions/why.md says what each question means. Nothing here is
/// guessed: it is what the check, the propagation or a solve says.
/// </summary>
/// <param name="Stint">From 1.</param>
/// <param name="Here">With everything else of the plan as it stands.</param>
/// <param name="AtAll">In any valid plan of the week; null where it has begun.</param>
/// <param name="People">Who is on it, and who else could be; empty where it has begun.</param>
public sealed record Why(
    string Task, int Stint, string Night, OffsetDateTime From, OffsetDateTime To, LeftShiftExplanation Here, EarliestStartExplanation? AtAll,
    IReadOnlyList<AssignmentExplanation> People)
{
    /// <summary>Of the time or effort: what the first two questions may take; the rest is for the people.</summary>
    private const double LeftShiftShare = 0.3, EarliestStartShare = 0.5;

    /// <summary>Null where the plan does not have the stint.</summary>
    /// <param name="problem">What the plan is of; with the facts of a re-plan where it is one.</param>
    /// <param name="plan">A plan of it; what it breaks already is no reason for anything here.</param>
    /// <param name="task">The id of a task of the week.</param>
    /// <param name="stint">From 1.</param>
    /// <param name="limits">What of the answer takes longer is left open, and the answer says so.</param>
    /// <param name="stop">Ends it as if the time were over.</param>
    public static Why? Of(Problem problem, Plan plan, string task, int stint, SearchLimits limits, CancellationToken stop = default)
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

/// <summary>What stops a stint from starting earlier, the rest of the plan standing.</summary>
/// <param name="Holds">
/// Every earlier start that is looked at and not open is stopped by these alone, and by no fewer of them; nearest start first.
/// </param>
/// <param name="Open">The earliest start at which nothing is broken; null where every earlier start breaks something.</param>
/// <param name="OpenStarts">How many starts are open.</param>
/// <param name="LookedBackTo">Null: every earlier start was looked at. Else the time given was over at this one.</param>
public sealed record LeftShiftExplanation(
    IReadOnlyList<BlockingRule> Holds, EarlierStart? Open, int OpenStarts, OffsetDateTime? LookedBackTo);

/// <param name="People">Who would be on it.</param>
/// <param name="Goals">What the goals would be, beside what they are.</param>
public sealed record EarlierStart(
    string Night, OffsetDateTime From, IReadOnlyList<PlannedPerson> People, IReadOnlyList<GoalDifference> Goals);

/// <summary>How early a stint can start in any valid plan of the week that places it.</summary>
/// <param name="NotBefore">Proven: no plan starts it before this.</param>
/// <param name="Because">
/// What makes it so: the longest path to it, from the stint back; else rule instances that cannot hold together with an earlier
/// start; empty where only a solve proves it.
/// </param>
/// <param name="Found">The earliest start of any plan found, never later than it is now.</param>
/// <param name="Earlier">The best plan found that starts it earlier than it is now; null where none was.</param>
/// <param name="Proven">
/// Of Earlier: no plan that starts it earlier has better goals. Where there is none: no plan starts it earlier.
/// </param>
public sealed record EarliestStartExplanation(
    OffsetDateTime NotBefore, IReadOnlyList<BlockingRule> Because, OffsetDateTime Found, EarlierStart? Earlier, bool Proven)
{
    /// <summary>Of Because: time ran out before each of the instances was proven to be needed.</summary>
    public bool MayHoldMore { get; init; }
}

/// <param name="Others">Everybody else of the crew who is not on it, in crew order.</param>
public sealed record AssignmentExplanation(string Person, string Skill, IReadOnlyList<Substitute> Others);

/// <summary>Whether somebody could be in somebody else's place, all work standing where it is.</summary>
/// <param name="Stopped">What stops a mere exchange; empty where nothing does.</param>
/// <param name="Goals">The goals with them there; null where no plan with them there was found.</param>
/// <param name="Rearranged">The night's shifts and the people of its other work are not as they are.</param>
/// <param name="Proven">
/// No better goals can be had, or none at all, with all work standing where it is; false: the best found in the time given.
/// </param>
public sealed record Substitute(
    string Person, IReadOnlyList<BlockingRule> Stopped, IReadOnlyList<GoalDifference>? Goals, bool Rearranged, bool Proven);
