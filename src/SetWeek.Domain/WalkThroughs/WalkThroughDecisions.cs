using OneOf;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.WalkThroughs;

/// <summary>The decision to record that somebody looked at an area.</summary>
public static class WalkThroughDecisions
{
    /// <summary>
    /// Records answers to checks of an area. A phone may have a list that is older than the week: an answer to a check that the
    /// area does not have any more is recorded and counts for nothing. If no answer counts, the report is refused.
    /// </summary>
    /// <returns>The event, and a snag for each check that fails and did not before; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> LookAt(this StoreWeek week, AreaLookedAt look)
    {
        if (week.Week.Store.Zones.All(zone => zone.Id != look.Zone))
            return new Refusal("unknown-zone", $"There is no zone \"{look.Zone}\" in this store.");
        if (NightReferences.Unknown(week, look.With) is { } unknown) return unknown;
        if (week.Recorded(look).TryPickT1(out var refusal, out var recorded)) return refusal;
        if (recorded is null) return Array.Empty<IWeekEvent>();
        var checks = AreaChecks.Of(week, look.Zone).Select(check => check.Id).ToHashSet();
        return look.Answers.Any(answer => checks.Contains(answer.Check)) 
            ? (IWeekEvent[])[look, .. WalkSnags.RaisedBy(week, look)]
            : new Refusal("unknown-check", "The checks of this area have changed. Load the list again, then look again.");
    }
}
