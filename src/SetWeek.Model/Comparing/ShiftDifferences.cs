using SetWeek.Model.Plans;

namespace SetWeek.Model.Comparing;

/// <summary>The shifts that differ between two plans of one week.</summary>
public static class ShiftDifferences
{
    /// <summary>
    /// The shifts that were added, dropped or moved, in no order. It needs no problem, so a fold of events can use it.
    /// </summary>
    /// <param name="published">The plan that the crew already has.</param>
    /// <param name="current">The new plan.</param>
    /// <param name="isAtShortNotice">Whether a shift starts within the notice period.</param>
    public static IEnumerable<ShiftChange> Between(Plan published, Plan current, Func<PlannedShift, bool> isAtShortNotice)
    {
        var (before, after) = (ByPersonNight(published), ByPersonNight(current));
        return from key in before.Keys.Union(after.Keys)
               let was = before.GetValueOrDefault(key)
               let now = after.GetValueOrDefault(key)
               where was is null || now is null || !SameSpan(was, now)
               select new ShiftChange(key.Person, key.Night, was, now,
                   was is not null && isAtShortNotice(was) || now is not null && isAtShortNotice(now));
    }

    private static Dictionary<(string Person, string Night), PlannedShift> ByPersonNight(Plan plan) =>
        plan.Nights.SelectMany(night => night.Shifts.Select(shift => (Key: (shift.Person, night.Night), Shift: shift)))
            .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Shift);

    private static bool SameSpan(PlannedShift was, PlannedShift now) =>
        was.From.ToInstant() == now.From.ToInstant() && was.To.ToInstant() == now.To.ToInstant();
}
