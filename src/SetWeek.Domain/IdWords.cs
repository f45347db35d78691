using System.Text.RegularExpressions;

namespace SetWeek.Domain;

/// <summary>The name of a thing that has none but its id: an item of a kit, a kind of equipment, a feature of a building, a skill.</summary>
public static partial class IdWords
{
    /// <summary>"step-ladder" as "step ladder", and "bolt-2.5" as "bolt 2.5".</summary>
    public static string Spaced(string id) => Separator().Replace(id, " ");

    /// <summary>A dot between figures belongs to a number.</summary>
    [GeneratedRegex(@"-|(?<![0-9])\.|\.(?![0-9])")]
    private static partial Regex Separator();
}
