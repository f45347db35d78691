using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>The decisions on the crew of a week: join, change, mark absent, erase.</summary>
public static class CrewDecisions
{
    /// <summary>The code of the refusal of a change that changes nothing.</summary>
    public const string NothingChanged = "nothing-changed";

    public static OneOf<CrewJoined, Refusal> Join(this StoreWeek week, CrewFile crew, string person) =>
        week.Crew.Contains(person)
            ? new Refusal("in-crew-already",
                $"{crew.NameOf(person)} already belongs to this crew; change the crew member instead.")
            : new CrewJoined(person);

    public static OneOf<CrewChanged, Refusal> ChangeCrew(this StoreWeek week, CrewMember before, CrewMember after)
    {
        if (!week.Crew.Contains(after.Id)) return Refusal.NotFound("person", after.Id);
        var changed = Differences(before, after).ToList();
        return changed.Count == 0
            ? new Refusal(NothingChanged, $"{before.Name} already has these values; there is nothing to change.")
            : new CrewChanged(after.Id, changed);
    }

    public static OneOf<PersonAbsent, Refusal> MarkAbsent(this StoreWeek week, CrewFile crew, string person, string night)
    {
        if (!week.Crew.Contains(person)) return Refusal.NotFound("person", person);
        if (week.Week.Nights.All(other => other.Id != night)) return Refusal.NotFound("night", night);
        return week.Absences.Contains((person, night))
            ? new Refusal("absent-already",
                $"{crew.NameOf(person)} is already marked absent for {Phrases.Night(week.Week, night)}.")
            : new PersonAbsent(person, night);
    }

    /// <returns>No event for a person who is erased already: an erasure may be repeated.</returns>
    public static OneOf<IReadOnlyList<PersonErased>, Refusal> Erase(this StoreWeek week, CrewFile crew, string person)
    {
        if (!week.Crew.Contains(person)) return Refusal.NotFound("person", person);
        return crew.Find(person) is null ? Array.Empty<PersonErased>() : new[] { new PersonErased(person) };
    }

    private static IEnumerable<string> Differences(CrewMember before, CrewMember after)
    {
        if (before.Name != after.Name) yield return "name";
        if (!before.Skills.ToHashSet().SetEquals(after.Skills)) yield return "skills";
        if (before.Keyholder != after.Keyholder) yield return "keyholder";
        if (before.Under18 != after.Under18) yield return "under18";
        if (before.RatePerHour != after.RatePerHour) yield return "ratePerHour";
        if (!before.Available.SequenceEqual(after.Available)) yield return "available";
        if (!before.Commitments.SequenceEqual(after.Commitments)) yield return "commitments";
        if (before.MaxMinutesPerNight != after.MaxMinutesPerNight) yield return "maxMinutesPerNight";
        if (before.MaxNights != after.MaxNights) yield return "maxNights";
        if (before.MinutesAlready != after.MinutesAlready) yield return "minutesAlready";
    }
}
