using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Pages.Photos;
using SetWeek.Service.Words;

namespace SetWeek.Service.Photos;

/// <summary>What the photographs of a week belong to: a photograph is named by the report that it came with.</summary>
internal static class PhotoSubjects
{
    /// <returns>By the id of a photograph. Reports that are taken back name none.</returns>
    public static ILookup<string, PhotosPage.Subject> Of(StoreWeek week) =>
        Named(week).SelectMany(named => (named.Photos ?? []).Select(photo => (Photo: photo, named.Subject))).Distinct()
            .ToLookup(named => named.Photo, named => named.Subject);

    private static IEnumerable<(IReadOnlyList<string>? Photos, PhotosPage.Subject Subject)> Named(StoreWeek week)
    {
        var (labels, address) = (new WeekLabels(week.Week), $"/weeks/{week.Id}");
        foreach (var (work, reports) in week.ReportedWork.Reports)
            foreach (var report in reports)
                yield return (report.Photos, new(work.Task is { } task ? labels.TaskName(task) : "Clean-down", null));
        foreach (var snag in week.AllSnags())
            foreach (var photos in snag.Acts.Select(act => act.Photos).Prepend(snag.Raised.Photos))
                yield return (photos, new($"Snag {snag.Number}", $"{address}/snags/{snag.Number}"));
        foreach (var look in week.AreaLooks)
            yield return (look.Photos, new(
                week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == look.Zone)?.Name ?? look.Zone,
                $"{address}/walk-through?area={look.Zone}"));
        foreach (var accepted in week.HandOvers) yield return (accepted.Photos, new("Hand-over", $"{address}/hand-over"));
    }
}
