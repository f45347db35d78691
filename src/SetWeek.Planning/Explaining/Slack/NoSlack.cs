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
public static class NoSlack
{
    private const int MostOfOneRule = 5, Most = 25;

    public static IReadOnlyList<Breach> Of(Problem problem, Plan plan) => Of(problem, PlanTimes.ScheduleOf(problem, plan));

    /// <summary>Those that hurt most if something slips come first; of one rule only so many.</summary>
    public static IReadOnlyList<Breach> Of(Problem problem, Schedule schedule)
    {
        var planned = schedule.Work.Where(work => !problem.Began(work)).OrderBy(work => work.From).ToArray();
        var shifts = schedule.Shifts.Where(shift => !problem.Ended(shift)).OrderBy(shift => shift.From).ToArray();
        return
        [
            .. new[]
            {
                SlackOfWork.Launch(problem, planned),
                SlackOfWork.Dues(problem, planned),
                SlackOfWork.Kits(problem, planned),
                SlackOfWork.Drying(problem, schedule, planned),
                SlackOfCrew.Keyholders(problem, schedule, shifts),
                SlackOfCrew.Skills(problem, schedule, planned),
                SlackOfCrew.Rest(problem, schedule, shifts),
                SlackOfCrew.Young(problem, shifts),
                SlackOfCrew.Availability(problem, shifts),
                SlackOfCrew.ShiftLength(problem, schedule, shifts),
                SlackOfWork.Bans(problem, planned),
                SlackOfWork.ZoneClosed(problem, schedule, planned),
                SlackOfWork.Equipment(problem, schedule, planned),
                SlackOfWork.Rooms(problem, schedule, planned),
                SlackOfWork.Windows(problem, planned, shifts),
                SlackOfCrew.TwoPerson(problem, shifts),
            }.SelectMany(ofOneRule => ofOneRule.Take(MostOfOneRule)).Take(Most)
                .Select(breach => breach with { Sentence = InWords.Fitting(breach.Sentence) }),
        ];
    }

    /// <summary>Less is left than a step of the grid.</summary>
    public static bool None(Problem problem, int left) => left >= 0 && left < problem.Grid.Minutes;

    /// <summary>"to the minute", "with 3 min to spare".</summary>
    public static string Spare(int left) => left == 0 ? "to the minute" : $"with {Say.Length(left)} to spare";

    public static IEnumerable<Breach> InEachNight(Problem problem, Func<NightWindow, Breach?> tight) =>
        problem.Nights.Where(night => !problem.Passed(night.Closes)).Select(tight).OfType<Breach>();
}
