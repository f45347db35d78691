using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Slack;

/// <summary>
/// The rule instances of a plan that have no slack: were the number in them one step tighter (one step of the grid, one
/// person, one piece), this plan as it stands would break them. What has begun is over and done with. What each rule counts
/// is said in docs/formats.md; rules without a number have no slack to speak of.
/// </summary>
public static class TightRules
{
    private const int MaxPerRule = 5, MaxInTotal = 25;

    public static IReadOnlyList<Breach> Of(Problem problem, Plan plan) => Of(problem, PlanConverter.ScheduleOf(problem, plan));

    /// <summary>Those that hurt most if something slips come first; of one rule only so many.</summary>
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
                WorkSlack.Bans(problem, planned),
                WorkSlack.ZoneClosed(problem, schedule, planned),
                WorkSlack.Equipment(problem, schedule, planned),
                WorkSlack.ZoneCapacities(problem, schedule, planned),
                WorkSlack.NightWindows(problem, planned, shifts),
                CrewSlack.TwoPerson(problem, shifts),
            }.SelectMany(ofOneRule => ofOneRule.Take(MaxPerRule)).Take(MaxInTotal)
                .Select(breach => breach with { Sentence = WeekPhrases.Truncated(breach.Sentence) }),
        ];
    }

    /// <summary>Less is left than a step of the grid.</summary>
    public static bool IsTight(Problem problem, int slack) => slack >= 0 && slack < problem.Grid.SlotMinutes;

    /// <summary>"to the minute", "with 3 min to spare".</summary>
    public static string SlackInWords(int slack) => slack == 0 ? "to the minute" : $"with {RulePhrases.Duration(slack)} to spare";

    public static IEnumerable<Breach> InEachNight(Problem problem, Func<NightWindow, Breach?> tightRule) =>
        problem.Nights.Where(night => !problem.HasPassed(night.Closes)).Select(tightRule).OfType<Breach>();
}
