namespace SetWeek.Service.Access;

/// <summary>The role of a caller.</summary>
public enum Role
{
    Lead,
    Crew,
    HeadOffice,
    Engineer,

    /// <summary>Reads the stores of a region, which its token or session lists.</summary>
    Region,
}

/// <summary>The roles as text, as in tokens and messages.</summary>
public static class Roles
{
    public static IReadOnlyList<Role> All { get; } = Enum.GetValues<Role>();

    /// <summary>The role as in a token, for example "head-office".</summary>
    public static string Text(this Role role) => role == Role.HeadOffice ? "head-office" : role.ToString().ToLowerInvariant();

    /// <summary>Somebody with the role, for a page: "a lead", "head office".</summary>
    public static string Person(this Role role) => role switch
    {
        Role.Lead => "a lead",
        Role.Crew => "crew",
        Role.HeadOffice => "head office",
        Role.Engineer => "an engineer",
        _ => "a reader of a region",
    };

    /// <summary>Those with one of the roles, for a page: "leads, crew and head office".</summary>
    public static string People(IReadOnlyList<Role> roles)
    {
        string[] names = [.. roles.Select(role => role switch
        {
            Role.Lead => "leads",
            Role.Crew => "crew",
            Role.HeadOffice => "head office",
            Role.Engineer => "engineers",
            _ => "readers of a region",
        })];
        return names.Length == 1 ? names[0] : $"{string.Join(", ", names[..^1])} and {names[^1]}";
    }

    /// <returns>Null if the text names no role.</returns>
    public static Role? Parse(string text) => All.Where(role => role.Text() == text).Select(role => (Role?)role).FirstOrDefault();
}
