namespace SetWeek.Domain;

/// <summary>The name of a thing that has none but its id: an item of a kit, a kind of equipment, a feature of a building, a skill.</summary>
public static class IdWords
{
    /// <summary>"step-ladder" as "step ladder".</summary>
    public static string Spaced(string id) => id.Replace('-', ' ').Replace('.', ' ');
}
