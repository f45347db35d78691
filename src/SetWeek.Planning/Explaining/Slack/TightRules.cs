using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Slack;

/// <summary>
/// Finds the rule instances without slack in a plan. If the number in such an instance were one step tighter (one grid step, one
/// person, one piece of equipment), the plan would break it. Work that has begun is left out. docs/formats.md says what each
/// rule counts; rules without a number are left out.
/// </summary>
public static class TightRules
{
    private const int MaxPerRule = 5, MaxInTotal = 25;

    /// <summary>The tight rule instances of a plan file.</summary>
    /// <param name="problem">The problem that the plan solves.</param>
    /// <param name="plan">A plan that keeps the rules.</param>
    /// <returns>As for a schedule.</returns>
    public static IReadOnlyList<Breach> Of(Problem problem, Plan plan) => Of(problem, PlanConverter.ScheduleOf(problem, plan));

    /// <summary>The tight rule instances of a schedule.</summary>
    /// <param name="problem">The problem that the schedule solves.</param>
    /// <param name="schedule">A schedule that keeps the rules.</param>
    /// <returns>At most 5 for each rule and 25 in total; those that a delay would hurt most come first.</returns>
    public static IReadOnlyList<Breach> Of(Problem problem, Schedule schedule)
    {
        var planned = schedule.Work.Where(work => !problem.HasBegun(work)).OrderBy(work => work.From).ToArray();
        var shifts = schedule.Shifts.Where(shift => !problem.HasEnded(shift)).OrderBy(shift => shift.From).ToArray();
        return
        [
            .. new[]
            {
                WorkSlack.Launch(problem, planned),
                WorkSlack.Dues(problem, planned),
                WorkSlack.Kits(problem, planned),
                WorkSlack.Drying(problem, schedule, planned),
                CrewSlack.Keyholders(problem, schedule, shifts),
                CrewSlack.Skills(problem, schedule, planned),
                CrewSlack.Rest(problem, schedule, shifts),
                CrewSlack.Under18(problem, shifts),
                CrewSlack.Availability(problem, shifts),
                CrewSlack.ShiftLength(problem, schedule, shifts),
                CrewSlack.Breaks(problem, shifts),
                WorkSlack.Bans(problem, planned),
                WorkSlack.ZoneClosed(problem, schedule, planned),
                WorkSlack.Equipment(problem, schedule, planned),
                WorkSlack.ZoneCapacities(problem, schedule, planned),
                WorkSlack.Company(problem, schedule, planned),
                WorkSlack.NightWindows(problem, planned, shifts),
                CrewSlack.TwoPerson(problem, shifts),
                CrewSlack.Briefing(problem, schedule, planned),
            }.SelectMany(breaches => breaches.Take(MaxPerRule))
                // The latest end for people under 18 and the end of an availability have one sentence. Said twice, it would
                // tell the age.
                .DistinctBy(breach => breach.Sentence).Take(MaxInTotal)
                .Select(breach => breach with { Sentence = WeekPhrases.Truncated(breach.Sentence) }),
        ];
    }

    /// <summary>True if the slack, in minutes, is not negative and below one grid step.</summary>
    public static bool IsTight(Problem problem, int slack) => slack >= 0 && slack < problem.Grid.SlotMinutes;

    /// <summary>"exactly when", "3 min before": the beginning of a clause.</summary>
    public static string SlackInWords(int slack) => slack == 0 ? "exactly when" : $"{RulePhrases.Duration(slack)} before";

    /// <summary>Applies a rule to each night that is not over.</summary>
    public static IEnumerable<Breach> InEachNight(Problem problem, Func<NightWindow, Breach?> tightRule) =>
        problem.Nights.Where(night => !problem.HasPassed(night.Closes)).Select(tightRule).OfType<Breach>();
}
