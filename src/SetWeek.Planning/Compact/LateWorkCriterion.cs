using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// Total late work (Blazewicz 1984): minutes of work after a due time. Search minimises it to empty all nights after a given one.
/// </summary>
/// <param name="DueMinute">Due time of all work but the last task, so that the last task has room in that night.</param>
/// <param name="FinalDueMinute">Due time of the last task: the end of that night's work.</param>
internal sealed record LateWorkCriterion(int DueMinute, int FinalDueMinute)
{
    /// <param name="problem">The problem.</param>
    /// <param name="nights">Number of nights in which all work should lie; at least 1.</param>
    public static LateWorkCriterion ForNights(Problem problem, int nights)
    {
        var closing = problem.Rules.KeyholderPresent ? problem.Rules.ClosingMinutes ?? 0 : 0;
        var end = problem.Nights[nights - 1].Closes - closing;
        var lastTaskMinutes = problem.LastTask is { } last
            ? Enumerable.Range(0, last.StintCount).Sum(stint => Enumerable.Range(0, last.Modes.Count)
                .Min(mode => problem.MinutesOf(problem.Stints[last.FirstStint + stint], mode)))
            : 0;
        return new(end - lastTaskMinutes, end);
    }

    /// <summary>Minutes of [from, to) after the due time of the activity.</summary>
    public int LateMinutes(CompactActivity activity, int from, int to) =>
        Math.Max(0, to - Math.Max(from, activity.IsFinal ? FinalDueMinute : DueMinute));

    /// <summary>
    /// Late minutes of all activities x people (at least one each); 0 if all work lies in the given nights.
    /// </summary>
    public long TotalLateWork(CompactProblem compact, PartialSchedule schedule)
    {
        var sum = 0L;
        for (var activity = 0; activity < schedule.Night.Length; activity++)
            if (schedule.Night[activity] >= 0)
            {
                var (from, to) = (schedule.StartMinute[activity], schedule.EndMinute[activity]);
                sum += (long)LateMinutes(compact.Activities[activity], from, to)
                    * Math.Max((byte)1, schedule.AssignedCount[activity]);
            }
        return sum;
    }
}
