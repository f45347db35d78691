using System.Text.RegularExpressions;

namespace SetWeek.Service.Access;

/// <summary>The form of every id, in bodies and in addresses alike; an address with anything else names nothing.</summary>
public static partial class Ids
{
    public static bool IsId(string text) => text.Length <= 100 && Form().IsMatch(text);

    [GeneratedRegex(@"^[a-z0-9][a-z0-9.-]*\z")]
    private static partial Regex Form();
}
