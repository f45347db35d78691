using SetWeek.Domain.Checks;
using SetWeek.Domain.Closings;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Openings;

/// <summary>
/// What is said aloud when a night is opened: what is the same every night, then what is so tonight. An item of tonight that has
/// nothing to say is left out.
/// </summary>
public static class Briefing
{
    public const string Bans = "bans", HomeBy = "home-by", Stops = "stops", LeftHalfSecured = "half-secured",
        Cautions = "cautions", Changes = "changes";

    /// <param name="sheet">The sheet of the night, of all people.</param>
    /// <param name="changes">What this issue of the plan changes in the night, a sentence each.</param>
    public static IReadOnlyList<BriefingItem> Of(StoreWeek week, NightSheet sheet, IReadOnlyList<string> changes)
    {
        var said = NightRecord.Of(week, sheet.Night).Opened?.Said ?? [];
        var traits = TraitsOf(week, sheet);
        return
        [
            .. StandardChecks.All.Briefing.Where(item => item.Traits.Count == 0 || item.Traits.Any(traits.Contains))
                .Select(item =>
                    new BriefingItem(item.Id, item.Sentence, [], item.IsRequired, said.Contains(item.Id), item.Source)),
            .. Tonight(week, sheet, changes).Where(item => item.Details.Count > 0)
                .Select(item => new BriefingItem(item.Id, item.Sentence, item.Details, false, said.Contains(item.Id), null)),
        ];
    }

    private static IEnumerable<(string Id, string Sentence, IReadOnlyList<string> Details)> Tonight(
        StoreWeek week, NightSheet sheet, IReadOnlyList<string> changes) =>
    [
        (Stops, "Where work is stopped.",
            [.. sheet.Stops.Select(stop => $"{stop.ZoneName ?? "The whole store"}, since {Clock(stop.At)}.")]),
        (LeftHalfSecured, "What was left half-secured: look at it before anything else.",
            [.. HalfSecuredTask.Of(week).Select(left => left.Sentence)]),
        (Bans, "What may not be done, and when.",
            [.. sheet.Bans.Select(ban => $"No “{ban.Trait}” work from {Clock(ban.From)} to {Clock(ban.To)}.")]),
        (HomeBy, "Who leaves early.",
            [.. sheet.Shifts.Where(shift => shift.HomeBy is not null)
                .Select(shift => $"{shift.Name} is home by {Clock(shift.HomeBy!.Value)}.")]),
        (Cautions, "The cautions of tonight, each read out.", [.. sheet.Pieces.SelectMany(piece => piece.Cautions).Distinct()]),
        (Changes, $"What issue {sheet.Issue} of the plan changes tonight.", changes),
    ];

    /// <summary>The traits of the night's tasks, and the equipment that they use.</summary>
    private static HashSet<string> TraitsOf(StoreWeek week, NightSheet sheet)
    {
        var tasks = sheet.Pieces.Select(piece => piece.Task).OfType<string>().ToHashSet();
        return [.. week.Week.Tasks.Where(task => tasks.Contains(task.Id)).SelectMany(task => task.Traits),
            .. sheet.Pieces.SelectMany(piece => piece.Equipment).Select(used => used.Equipment)];
    }

    private static string Clock(NodaTime.OffsetDateTime time) =>
        time.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture);
}
