using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// The nights after one of them are to be emptied: how far work reaches beyond it, by a line that most of it has to end by and
/// another, later, for what comes after all else.
/// </summary>
/// <param name="DueMinute">Minute by which all but the final task has to end, for that to find room in the night.</param>
/// <param name="FinalDueMinute">Minute by which the night's work ends.</param>
internal sealed record LateWorkCriterion(int DueMinute, int FinalDueMinute)
{
    /// <param name="problem">What is planned.</param>
    /// <param name="nights">After so many nights all is to be done.</param>
    public static LateWorkCriterion ForNights(Problem problem, int nights)
    {
        var closing = problem.Rules.KeyholderPresent ? problem.Rules.ClosingMinutes ?? 0 : 0;
        var end = problem.Nights[nights - 1].Closes - closing;
        var final = problem.LastTask is { } last
            ? Enumerable.Range(0, last.StintCount).Sum(stint => Enumerable.Range(0, last.Modes.Count)
                .Min(mode => problem.MinutesOf(problem.Stints[last.FirstStint + stint], mode)))
            : 0;
        return new(end - final, end);
    }

    /// <summary>Minutes of a job between then and then that lie beyond its line.</summary>
    public int LateMinutes(CompactActivity activity, int from, int to) => Math.Max(0, to - Math.Max(from, activity.IsFinal ? FinalDueMinute : DueMinute));

    /// <summary>The same summed over a draft, each job as often as it takes people: 0 where the nights after are empty.</summary>
    public long TotalLateWork(CompactProblem compact, PartialSchedule schedule)
    {
        var sum = 0L;
        for (var activity = 0; activity < schedule.Night.Length; activity++)
            if (schedule.Night[activity] >= 0)
                sum += (long)LateMinutes(compact.Activities[activity], schedule.StartMinute[activity], schedule.EndMinute[activity]) * Math.Max((byte)1, schedule.AssignedCount[activity]);
        return sum;
    }
}
