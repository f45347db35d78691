using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>
/// The personal data of a week's crew: names, rates, skills, ages, hours. It is a document beside the event stream, so that a
/// person can be erased from it while the events of the week remain unchanged.
/// </summary>
/// <param name="Id">The id of the week.</param>
public sealed record CrewFile(string Id, IReadOnlyList<CrewMember> Members)
{
    public CrewMember? Find(string person) => Members.FirstOrDefault(member => member.Id == person);

    /// <summary>The crew with the member replaced, or added at the end.</summary>
    public CrewFile With(CrewMember member) => this with
    {
        Members = Find(member.Id) is null ? [.. Members, member]
            : [.. Members.Select(existing => existing.Id == member.Id ? member : existing)],
    };

    public CrewFile Without(string person) => this with { Members = [.. Members.Where(member => member.Id != person)] };
}
