using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>
/// Who the ids of a week are: names, rates, skills, ages, hours. A document beside the stream, so that a person can be
/// erased from it while the week's events stay true.
/// </summary>
/// <param name="Id">That of the week.</param>
public sealed record CrewFile(string Id, IReadOnlyList<CrewMember> Members)
{
    public CrewMember? Find(string person) => Members.FirstOrDefault(member => member.Id == person);

    /// <summary>In the place that they have, or at the end.</summary>
    public CrewFile With(CrewMember member) => this with
    {
        Members = Find(member.Id) is null ? [.. Members, member]
            : [.. Members.Select(known => known.Id == member.Id ? member : known)],
    };

    public CrewFile Without(string person) => this with { Members = [.. Members.Where(member => member.Id != person)] };
}
