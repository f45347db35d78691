using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// The end of a night: a zone's work stops before its clean-down begins, so in the last minutes before the night's work with
/// people ends there is little to do besides clean-downs, and whoever is still there waits.
/// Rows, and why every valid plan keeps them, for a length c: let T be the end of the night's last work with people.
/// clean-down: in the c minutes before T there is at most c - d of a stint whose zone has a clean-down of d minutes that needs
/// somebody, and at most c of anything else; what is left of its minutes lies before T - c. keyholder, open-close: whoever works
/// before T - c does so between the lead's start with its opening and T - c, which is at least closing before the lead's end, so no
/// longer than the lead's shift less opening, closing and c. So all that is done before T - c comes to no more. (The same for sets of
/// people cost the solver more time than it gave.)
/// Lengths c are only those that each stint with its clean-down lasts, so that work that begins at all begins by T - c; and
/// that the shortest shift holds with opening and closing, so that a night with shifts and no work keeps the rows too.
/// </summary>
internal sealed class NightEndRows(Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work, RosterColumns roster)
{
    /// <summary>Different lengths looked at in a night at most; the shortest are kept.</summary>
    private const int MaxLengths = 3;

    public void Post()
    {
        if (!problem.Rules.KeyholderPresent) return;
        foreach (var night in problem.Nights.Where(night => roster.AttendedMinutes[night.Index] is not null))
        {
            var stints = work.ColumnsIn(night.Index).Where(one => one.Way.People > 0).ToArray();
            if (stints.Length == 0) continue;
            var shortest = stints.Min(one => one.Minutes + CleanDownMinutes(one.Stint.Task));
            var least = problem.Crew.Where(person => roster.HasShift(person.Index, night.Index) is not null)
                .Min(person => (Math.Max(1, person.MinShift) + problem.ShiftGridMinutes - 1) / problem.ShiftGridMinutes * problem.ShiftGridMinutes);
            foreach (var length in problem.Zones.Select(zone => zone.CleanDown is { People: > 0 } down ? down.Minutes : 0)
                .Where(length => length > 0 && length <= Math.Min(shortest, least - roster.OpeningAndClosingMinutes)).Distinct().Order().Take(MaxLengths))
                Post(night, length, stints);
        }
    }

    private void Post(NightWindow night, int length, (Stint Stint, ActivityMode Way, int Minutes, LinearExpression At)[] stints)
    {
        var asked = LinearExpression.SumOf(stints.Select(one => new LinearExpression().Add(one.At,
            (long)one.Way.People * Math.Max(0, one.Minutes - Math.Max(0, length - CleanDownMinutes(one.Stint.Task))))));
        foreach (var zone in problem.Zones)
            if (zone.CleanDown is { People: > 0 } down && work.CleanDownDue[zone.Index][night.Index] is { } touched)
                asked.Add(touched, (long)down.People * Math.Max(0, down.Minutes - length));
        var given = LinearExpression.SumOf(problem.Crew.Where(person => roster.HasShift(person.Index, night.Index) is not null)
            .Select(person => MinutesBeforeEnd(person.Index, night, length)));
        model.AddAtMostZero(new LinearExpression().Add(asked).Add(given, -1));
    }

    /// <summary>Minutes that a person works before the last ones.</summary>
    private LinearExpression MinutesBeforeEnd(int person, NightWindow night, int length)
    {
        var here = roster.HasShift(person, night.Index)!;
        var longest = propagation.ShiftWindows.WorkSpans(night.Index).Select(span => span.Minutes).DefaultIfEmpty(0).Max();
        var most = Math.Max(0, Math.Min(propagation.ShiftWindows.MaxWorkMinutes(person, night.Index), longest - length));
        var before = model.NewColumn(0, most, night.Index);
        model.AddAtMostZero(new LinearExpression().Add(before).Add(here, -most));
        model.AddAtMostZero(new LinearExpression().Add(before).Add(roster.WorkMinutes(person, night.Index)!, -1));
        model.AddAtMostZero(new LinearExpression().Add(before).Add(roster.AttendedMinutes[night.Index]!, -1).Add(roster.Attended[night.Index]!, roster.OpeningAndClosingMinutes + length));
        return before;
    }

    private int CleanDownMinutes(IndexedTask task) =>
        !task.IsLastTask && problem.Zones[task.Zone].CleanDown is { People: > 0 } down ? down.Minutes : 0;
}
