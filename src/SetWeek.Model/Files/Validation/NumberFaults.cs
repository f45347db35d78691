using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds numbers that are each in range but contradict one another.</summary>
internal static class NumberFaults
{
    public static IEnumerable<Fault> Of(Week week) => [.. Rules(week), .. Kits(week), .. Tasks(week)];

    private static IEnumerable<Fault> Rules(Week week)
    {
        var (rules, young) = (week.Rules, week.Rules.Under18);
        if (rules.ShiftGridMinutes is { } shiftGrid && shiftGrid % week.GridMinutes != 0)
            yield return new Fault("/rules/shiftGridMinutes",
                $"Shifts start and end every {shiftGrid} minutes, which is not a multiple of gridMinutes, {week.GridMinutes}; "
                + "change one of the two.");
        if (rules.MinShiftMinutes > rules.MaxShiftMinutes)
            yield return new Fault("/rules/minShiftMinutes",
                $"The shortest shift, {rules.MinShiftMinutes} minutes, is longer than the longest, {rules.MaxShiftMinutes}; "
                + "change one of the two.");
        if (rules.BreakAfterMinutes is not null && rules.BreakMinutes is null)
            yield return new Fault("/rules/breakAfterMinutes",
                "A break is due after this many minutes, but its length is missing; give it as breakMinutes.");
        var clear = rules.BreakClearMinutes ?? 0;
        if (clear > 0 && rules.BreakAfterMinutes is { } after && rules.BreakMinutes is { } length && after < length + 2 * clear)
            yield return BreakFault("/rules/breakClearMinutes", clear, after, length);
        if (clear > 0 && (young?.BreakAfterMinutes ?? young?.BreakMinutes) is not null
            && (young!.BreakAfterMinutes ?? rules.BreakAfterMinutes) is { } youngAfter
            && (young.BreakMinutes ?? rules.BreakMinutes) is { } youngLength && youngAfter < youngLength + 2 * clear)
            yield return BreakFault("/rules/under18", clear, youngAfter, youngLength);
        if (young?.BreakAfterMinutes is not null && young.BreakMinutes is null && rules.BreakMinutes is null)
            yield return new Fault("/rules/under18/breakAfterMinutes",
                "A break is due after this many minutes, but its length is missing; give it as breakMinutes.");
    }

    /// <summary>A shift just long enough for a break has room for it only if this does not happen.</summary>
    private static Fault BreakFault(string at, int clear, int after, int length) => new(at,
        $"A break of {length} minutes, {clear} minutes from both ends of a shift, does not fit a shift that is little longer "
            + $"than breakAfterMinutes, {after}; give at least {length + 2 * clear} minutes there, or fewer for "
            + "breakClearMinutes.");

    private static IEnumerable<Fault> Kits(Week week) =>
        from kit in week.Kits.Index()
        from line in kit.Item.Lines.Index()
        where line.Item.Damaged > line.Item.Received
        select new Fault($"/kits/{kit.Index}/lines/{line.Index}/damaged",
            $"Of {line.Item.Received} pieces received, {line.Item.Damaged} are damaged; correct one of the numbers. "
                + "Damaged pieces count as received.");

    private static IEnumerable<Fault> Tasks(Week week)
    {
        foreach (var (index, task) in week.Tasks.Index())
            if (task.Estimate is { } estimate && task.Modes.Count > 0
                && (estimate.Optimistic > task.Modes[0].Minutes || task.Modes[0].Minutes > estimate.Pessimistic))
                yield return new Fault($"/tasks/{index}/estimate",
                    $"The estimate of {estimate.Optimistic} to {estimate.Pessimistic} minutes does not enclose the first "
                    + $"mode's {task.Modes[0].Minutes} minutes, the most likely value; correct one of them.");
        var stints = week.Tasks.Sum(task => task.Stints);
        if (stints > WeekLimits.TotalStints)
            yield return new Fault("/tasks",
                $"The tasks have {stints:N0} stints in all; at most {WeekLimits.TotalStints:N0} are allowed. "
                + "Use fewer stints or tasks.");
    }
}
