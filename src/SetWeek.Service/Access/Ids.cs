using System.Text.RegularExpressions;

namespace SetWeek.Service.Access;

/// <summary>The format of every id, in request bodies and in URL paths.</summary>
public static partial class Ids
{
    public static bool IsId(string text) => text.Length <= 100 && Form().IsMatch(text);

    [GeneratedRegex(@"^[a-z0-9][a-z0-9.-]*\z")]
    private static partial Regex Form();
}
