using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>People who worked in an earlier week, taken over into a new one.</summary>
public static class TakenCrew
{
    /// <summary>
    /// Their particulars stay. Each can come in every night of the new week, and nothing is known yet of where they are busy
    /// elsewhere or have worked in its pay week.
    /// </summary>
    /// <param name="people">Those who are taken over; whoever is not in the crew is left out.</param>
    public static IReadOnlyList<CrewMember> Of(CrewFile earlier, IReadOnlyList<string> people, IReadOnlyList<Night> nights) =>
    [
        .. people.Distinct().Select(earlier.Find).OfType<CrewMember>().Select(member => member with
        {
            Available = [.. nights.Select(night => new Availability(night.Id))], Commitments = [], MinutesAlready = 0,
        }),
    ];
}
