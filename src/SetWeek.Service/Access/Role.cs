namespace SetWeek.Service.Access;

/// <summary>Whom a token speaks for.</summary>
public enum Role { Lead, Crew, HeadOffice, Engineer }

/// <summary>The roles as tokens and pages write them.</summary>
public static class Roles
{
    public static IReadOnlyList<Role> All { get; } = Enum.GetValues<Role>();

    /// <summary>As tokens say it: head-office.</summary>
    public static string Text(this Role role) => role == Role.HeadOffice ? "head-office" : role.ToString().ToLowerInvariant();

    public static Role? Parse(string word) => All.Where(role => role.Text() == word).Select(role => (Role?)role).FirstOrDefault();
}
