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

    /// <returns>Null if the text names no role.</returns>
    public static Role? Parse(string text) => All.Where(role => role.Text() == text).Select(role => (Role?)role).FirstOrDefault();
}
