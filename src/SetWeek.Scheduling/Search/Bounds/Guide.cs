namespace SetWeek.Scheduling.Search.Bounds;

/// <summary>
/// A solution of the night master, for the search to steer by: where a good plan might put its work and its people. It keeps
/// the rules only as far as nights show them.
/// </summary>
/// <param name="Night">By stint: the night it is done in; -1 where its display is left out.</param>
/// <param name="Mode">By stint: the way it is done; -1 where it is left out.</param>
/// <param name="Minutes">By person and night: length of the shift in minutes; 0 for none.</param>
/// <param name="Value">What the goal that was minimised comes to, rounded up.</param>
internal sealed record Guide(string Goal, long Value, IReadOnlyList<int> Night, IReadOnlyList<int> Mode,
    IReadOnlyList<IReadOnlyList<int>> Minutes)
{
    internal static Guide Of(Problem problem, NightMaster master, string goal, Func<Sum, long> value)
    {
        var (night, mode) = (new int[problem.Stints.Count], new int[problem.Stints.Count]);
        Array.Fill(night, -1);
        Array.Fill(mode, -1);
        foreach (var stint in problem.Stints)
            for (var at = 0; at < problem.Nights.Count; at++)
                for (var way = 0; way < stint.Task.Ways.Count; way++)
                    if (master.Work.At(stint.Index, way, at) is { } column && value(column) == 1)
                        (night[stint.Index], mode[stint.Index]) = (at, way);
        var (sum, divisor) = master.Goal(goal);
        return new(goal, (value(sum) + divisor - 1) / divisor, night, mode,
            [.. problem.Crew.Select(person => (IReadOnlyList<int>)[.. problem.Nights.Select(one =>
                master.Crew.Length(person.Index, one.Index) is { } length ? (int)value(length) : 0)])]);
    }
}
