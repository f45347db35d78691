using SetWeek.Service.Access;

namespace SetWeek.Service.Pages;

/// <summary>The links in the head of the pages that are about a whole chain.</summary>
public static class ChainLinks
{
    private static readonly Role[] Readers = [Role.HeadOffice, Role.Lead, Role.Region, Role.Engineer];

    private static readonly (string Name, string Address, Role[] Roles)[] Pages =
    [
        ("Stores", "/stores", Readers),
        ("Questions", "/questions", [Role.HeadOffice, Role.Lead, Role.Region]),
        ("Snags", "/snags", [Role.HeadOffice, Role.Lead, Role.Region]),
        ("Memos", "/memos", [Role.HeadOffice, Role.Region]),
        ("Directions", "/directions", Readers),
        ("Late kits", "/kit-delays", [Role.HeadOffice]),
        ("Feed", "/feed", [Role.HeadOffice, Role.Engineer]),
        ("Followers", "/followers", [Role.Engineer]),
        ("Webhooks", "/webhooks", [Role.HeadOffice, Role.Engineer]),
    ];

    /// <param name="current">The name of the page that is shown.</param>
    public static IReadOnlyList<Frame.Link> Of(Role role, string current) =>
    [
        .. from page in Pages
            where page.Roles.Contains(role)
            select new Frame.Link(page.Name, page.Address, page.Name == current),
    ];
}
