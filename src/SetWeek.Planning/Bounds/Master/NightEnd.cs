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
internal sealed class NightEnd(Problem problem, Certificates known, RowModel rows, NightWork work, NightCrew crew)
{
    /// <summary>Different lengths looked at in a night at most; the shortest are kept.</summary>
    private const int Lengths = 3;

    public void Post()
    {
        if (!problem.Rules.KeyholderPresent) return;
        foreach (var night in problem.Nights.Where(night => crew.Span[night.Index] is not null))
        {
            var stints = work.Of(night.Index).Where(one => one.Way.People > 0).ToArray();
            if (stints.Length == 0) continue;
            var shortest = stints.Min(one => one.Minutes + Down(one.Stint.Task));
            var least = problem.Crew.Where(person => crew.On(person.Index, night.Index) is not null)
                .Min(person => (Math.Max(1, person.MinShift) + problem.ShiftGrid - 1) / problem.ShiftGrid * problem.ShiftGrid);
            foreach (var length in problem.Zones.Select(zone => zone.CleanDown is { People: > 0 } down ? down.Minutes : 0)
                .Where(length => length > 0 && length <= Math.Min(shortest, least - crew.Overhead)).Distinct().Order().Take(Lengths))
                Post(night, length, stints);
        }
    }

    private void Post(NightWindow night, int length, (Stint Stint, Way Way, int Minutes, Sum At)[] stints)
    {
        var asked = Sum.Of(stints.Select(one => new Sum().And(one.At,
            (long)one.Way.People * Math.Max(0, one.Minutes - Math.Max(0, length - Down(one.Stint.Task))))));
        foreach (var zone in problem.Zones)
            if (zone.CleanDown is { People: > 0 } down && work.Touched[zone.Index][night.Index] is { } touched)
                asked.And(touched, (long)down.People * Math.Max(0, down.Minutes - length));
        var given = Sum.Of(problem.Crew.Where(person => crew.On(person.Index, night.Index) is not null)
            .Select(person => Before(person.Index, night, length)));
        rows.NotPositive(new Sum().And(asked).And(given, -1));
    }

    /// <summary>Minutes that a person works before the last ones.</summary>
    private Sum Before(int person, NightWindow night, int length)
    {
        var here = crew.On(person, night.Index)!;
        var longest = known.Crew.WorkSpans(night.Index).Select(span => span.Minutes).DefaultIfEmpty(0).Max();
        var most = Math.Max(0, Math.Min(known.Crew.MostWork(person, night.Index), longest - length));
        var before = rows.Column(0, most, night.Index);
        rows.NotPositive(new Sum().And(before).And(here, -most));
        rows.NotPositive(new Sum().And(before).And(crew.Work(person, night.Index)!, -1));
        rows.NotPositive(new Sum().And(before).And(crew.Span[night.Index]!, -1).And(crew.Open[night.Index]!, crew.Overhead + length));
        return before;
    }

    private int Down(Activity task) =>
        !task.Last && problem.Zones[task.Zone].CleanDown is { People: > 0 } down ? down.Minutes : 0;
}
