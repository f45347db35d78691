using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>Says which zones a plan leaves bare while the store is open, and what they sell in a day.</summary>
public static class BareSentences
{
    /// <summary>
    /// By the id of a night: a sentence about the zones that are bare at its closes. Nights without any are left out.
    /// </summary>
    public static IReadOnlyDictionary<string, string> ByNight(Week week, Plan plan)
    {
        var problem = Problem.Of(week);
        return BareZones.Of(problem, PlanConverter.ScheduleOf(problem, plan))
            .Where(bare => problem.Zones[bare.Zone].TradePerDay > 0).GroupBy(bare => bare.Night)
            .ToDictionary(night => problem.Nights[night.Key].Id,
                night => Sentence(week, [.. night.Select(bare => problem.Zones[bare.Zone])]));
    }

    private static string Sentence(Week week, IReadOnlyList<IndexedZone> zones)
    {
        var names = WeekLabels.Join([.. zones.Select(zone => $"{zone.Name} ({Money.Of(zone.TradePerDay, week.Currency)})")]);
        return $"Bare when the store opens after this night, with what it sells in a day: {names}.";
    }
}
