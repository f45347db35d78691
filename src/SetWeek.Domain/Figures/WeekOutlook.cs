using NodaTime;
using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Figures;

/// <summary>What follows from a week's figures at a given time. It is worked out on reading and never stored.</summary>
/// <param name="NightsLeft">Nights that close after the given time and open before the launch.</param>
/// <param name="MinutesSinceReport">The age of the figures; null if nothing has been reported.</param>
/// <param name="AtRisk">Whether there is a reason to look at the week now.</param>
/// <param name="Because">The reasons, one sentence each.</param>
public sealed record WeekOutlook(int NightsLeft, long? MinutesSinceReport, bool AtRisk, IReadOnlyList<string> Because)
{
    /// <summary>A plan should be published this long before the first night. Common practice, no source.</summary>
    private static readonly Period PlanAhead = Period.FromDays(2);

    public static WeekOutlook Of(WeekFigures week, Instant now)
    {
        var local = now.InZone(DateTimeZoneProviders.Tzdb[week.TimeZone]).LocalDateTime;
        var left = week.Nights.Count(night => night.Closes > local && night.Opens < week.Launch);
        string[] because = week.Stage == WeekStage.Done ? [] : [.. Reasons(week, local, left)];
        long? age = week.LastReport is { } last ? (long)(now - last).TotalMinutes : null;
        return new WeekOutlook(left, age, because.Length > 0, because);
    }

    private static IEnumerable<string> Reasons(WeekFigures week, LocalDateTime now, int nightsLeft)
    {
        var missing = week.Displays - week.DisplaysDone;
        if (week.Launch <= now)
            yield return $"The launch was {Phrases.Time(week.Launch)}, "
                + $"and {Count(missing, "display is", "displays are")} not done.";
        else if (nightsLeft == 0)
            yield return $"No night is left before the launch, and {Count(missing, "display is", "displays are")} not done.";
        else if (week.PublishedPlan is null && week.Nights[0].Opens - PlanAhead <= now)
            yield return $"No plan is published, and the first night opens {Phrases.Time(week.Nights[0].Opens)}.";
        if (week.Broken is { } broken) yield return $"The published plan no longer holds. {broken}";
        if (week.Blocked > 0) yield return $"{Count(week.Blocked, "piece of work is", "pieces of work are")} blocked.";
        if (week.KitsIncomplete > 0) yield return $"{Count(week.KitsIncomplete, "kit keeps", "kits keep")} work waiting.";
        foreach (var kit in week.Kits.Where(kit => !kit.HasArrived && kit.Eta <= now))
            yield return $"“{kit.Name}” was expected {Phrases.Time(kit.Eta!.Value)} and has not arrived.";
    }

    private static string Count(int number, string one, string several) => $"{number} {(number == 1 ? one : several)}";
}
