using SetWeek.Service.Access;

namespace SetWeek.Service.Pages;

/// <summary>The links in the head of every page of a week.</summary>
public static class WeekLinks
{
    private const string FactsPage = "What has changed";

    /// <param name="current">The name of the page that is shown.</param>
    public static IReadOnlyList<Frame.Link> Of(string week, string direction, Role role, string current) =>
    [
        .. from page in Pages(week, direction)
            where role != Role.Crew || page.IsForCrew
            where page.Name != FactsPage || role is Role.Lead or Role.HeadOffice
            // It has what only those read who plan the work and pay for it.
            where page.Name != "Crew" || role is Role.Lead or Role.HeadOffice
            select new Frame.Link(page.Name, page.Address, page.Name == current),
    ];

    private static IEnumerable<(string Name, string Address, bool IsForCrew)> Pages(string week, string direction) =>
    [
        ("Week", $"/weeks/{week}/plan", true),
        ("Tonight", $"/weeks/{week}/tonight", true),
        ("Kits", $"/weeks/{week}/kits", true),
        ("Snags", $"/weeks/{week}/snags", true),
        ("Questions", $"/weeks/{week}/questions", true),
        ("Direction", $"/directions/{direction}", true),
        ("Crew", $"/weeks/{week}/crew", false),
        (FactsPage, $"/weeks/{week}/facts", false),
        ("Told", $"/weeks/{week}/told", false),
        ("Walk-through", $"/weeks/{week}/walk-through", true),
        ("Hand-over", $"/weeks/{week}/hand-over", false),
    ];
}
