using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Nights;

/// <summary>Finds what a report on a night names and the week does not have.</summary>
internal static class NightReferences
{
    /// <returns>Null if the week has the night and the people.</returns>
    public static Refusal? Unknown(StoreWeek week, string night, IEnumerable<string> people) =>
        week.Week.Nights.All(known => known.Id != night)
            ? new Refusal("unknown-night", $"There is no night \"{night}\" in this week.") : Unknown(week, people);

    public static Refusal? Unknown(StoreWeek week, IEnumerable<string> people) =>
        people.FirstOrDefault(person => !week.Crew.Contains(person)) is { } stranger
            ? new Refusal("unknown-person",
                $"\"{stranger}\" does not belong to the crew of this week. Add the person to the crew first.")
            : null;
}
