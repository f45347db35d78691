using SetWeek.Service.Access;

namespace SetWeek.Service.Pages;

/// <summary>The links in the head of every page of a week.</summary>
public static class WeekLinks
{
    private const string MyChanges = "My changes";

    /// <param name="current">The name of the page that is shown.</param>
    public static IReadOnlyList<Frame.Link> Of(string week, string direction, Role role, string current) =>
    [
        .. from page in Pages(week, direction)
            where page.Readers.Contains(role)
            select new Frame.Link(page.Name, page.Address, page.Name == current),
    ];

    /// <summary>The name that the page of who was told has for the role.</summary>
    public static string ToldFor(Role role) => role == Role.Crew ? MyChanges : "Told";

    private static IEnumerable<(string Name, string Address, IReadOnlyList<Role> Readers)> Pages(string week, string direction)
    {
        IReadOnlyList<Role> everybody = Roles.All, others = [.. Roles.All.Where(role => role != Role.Crew)],
            planners = [Role.Lead, Role.HeadOffice], snags = [Role.Lead, Role.Crew, Role.HeadOffice, Role.Region],
            questions = [Role.Lead, Role.Crew, Role.HeadOffice];
        return
        [
            ("Week", $"/weeks/{week}/plan", everybody),
            ("Tonight", $"/weeks/{week}/tonight", everybody),
            ("Kits", $"/weeks/{week}/kits", everybody),
            ("Snags", $"/weeks/{week}/snags", snags),
            ("Questions", $"/weeks/{week}/questions", questions),
            ("Memos", $"/weeks/{week}/memos", everybody),
            ("Direction", $"/directions/{direction}", everybody),
            ("Crew", $"/weeks/{week}/crew", planners),
            ("What has changed", $"/weeks/{week}/facts", planners),
            (MyChanges, $"/weeks/{week}/told", [Role.Crew]),
            ("Told", $"/weeks/{week}/told", others),
            ("Walk-through", $"/weeks/{week}/walk-through", everybody),
            ("Hand-over", $"/weeks/{week}/hand-over", others),
        ];
    }
}
