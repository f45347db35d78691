using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Valid inequalities for the end of a night. A zone's work ends before its clean-down starts, so in the last minutes there is
/// little to do besides clean-downs, while people may still be on paid shifts.
/// For a length c, let T be the end of the night's last work with people. Why every valid plan meets the row for c:
/// Demand (clean-down): if a staffed clean-down of d minutes follows a stint, at most c - d minutes of the stint lie in the last
/// c minutes before T. Of any other work at most c minutes do. The rest lies before T - c.
/// Capacity (keyholder, open-close): all work starts after opening, and the keyholder's shift lasts until closing is done
/// after T. So before T - c nobody works longer than the keyholder's shift less opening, closing and c.
/// The row says that the demand before T - c is at most the capacity before T - c.
/// A length c is used on two conditions. Each stint with its clean-down lasts at least c, so that all work starts by T - c. The
/// shortest shift lasts at least c plus opening and closing, so that a night with shifts but without work meets the row.
/// The same rows for each Hall set cost the solver more time than they saved.
/// </summary>
internal sealed class NightEndRows(
    Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work, RosterColumns roster)
{
    /// <summary>Largest number of lengths c for one night; the shortest are used.</summary>
    private const int MaxLengths = 3;

    public void Post()
    {
        if (!problem.Rules.KeyholderPresent) return;
        foreach (var night in problem.Nights.Where(night => roster.AttendedMinutes[night.Index] is not null))
        {
            var columns = work.ColumnsIn(night.Index).Where(column => column.Mode.People > 0).ToArray();
            if (columns.Length == 0) continue;
            var shortestWork = columns.Min(column => column.Minutes + StaffedCleanDownMinutes(column.Stint.Task));
            var grid = problem.ShiftGridMinutes;
            var shortestShift = problem.Crew.Where(person => roster.HasShift(person.Index, night.Index) is not null)
                .Min(person => (Math.Max(1, person.MinShift) + grid - 1) / grid * grid);
            foreach (var length in problem.Zones
                .Select(zone => zone.CleanDown is { People: > 0 } cleanDown ? cleanDown.Minutes : 0)
                .Where(length => length > 0
                    && length <= Math.Min(shortestWork, shortestShift - roster.OpeningAndClosingMinutes))
                .Distinct().Order().Take(MaxLengths))
                Post(night, length, columns);
        }
    }

    private void Post(NightWindow night, int length, WorkColumn[] columns)
    {
        var demand = LinearExpression.SumOf(columns.Select(column => new LinearExpression().Add(column.IsDone,
            (long)column.Mode.People
                * Math.Max(0, column.Minutes - Math.Max(0, length - StaffedCleanDownMinutes(column.Stint.Task))))));
        foreach (var zone in problem.Zones)
            if (zone.CleanDown is { People: > 0 } cleanDown && work.CleanDownDue[zone.Index][night.Index] is { } isDue)
                demand.Add(isDue, (long)cleanDown.People * Math.Max(0, cleanDown.Minutes - length));
        var capacity = LinearExpression.SumOf(problem.Crew
            .Where(person => roster.HasShift(person.Index, night.Index) is not null)
            .Select(person => MinutesBeforeEnd(person.Index, night, length)));
        model.AddAtMostZero(new LinearExpression().Add(demand).Add(capacity, -1));
    }

    /// <summary>A new column: the minutes that a person works before T - length.</summary>
    private LinearExpression MinutesBeforeEnd(int person, NightWindow night, int length)
    {
        var longest = propagation.ShiftWindows.LongestWorkSpan(night.Index);
        var most = Math.Max(0, Math.Min(propagation.ShiftWindows.MaxWorkMinutes(person, night.Index), longest - length));
        var before = model.NewColumn(0, most, night.Index);
        model.AddAtMostZero(new LinearExpression().Add(before).Add(roster.HasShift(person, night.Index)!, -most));
        model.AddAtMostZero(new LinearExpression().Add(before).Add(roster.WorkMinutes(person, night.Index)!, -1));
        model.AddAtMostZero(new LinearExpression().Add(before).Add(roster.AttendedMinutes[night.Index]!, -1)
            .Add(roster.Attended[night.Index]!, roster.OpeningAndClosingMinutes + length));
        return before;
    }

    /// <summary>
    /// Minutes of the clean-down with people that follows a task's work. Unlike elsewhere it counts in a re-plan too, because
    /// rows are posted only for nights that have not begun.
    /// </summary>
    private int StaffedCleanDownMinutes(IndexedTask task) =>
        problem.CleanDownAfter(task) is { People: > 0 } cleanDown ? cleanDown.Minutes : 0;
}
