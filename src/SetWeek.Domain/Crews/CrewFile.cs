using System.Text.Json.Serialization;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>
/// The personal data of a week's crew: names, rates, skills, ages, hours. It is a document beside the event stream, so that a
/// person can be erased from it while the events of the week remain unchanged.
/// </summary>
/// <param name="Id">The id of the week.</param>
public sealed record CrewFile(string Id, IReadOnlyList<CrewMember> Members)
{
    /// <summary>Who stands in place of a person for those who do not read names.</summary>
    public const string Somebody = "somebody";

    /// <summary>For sentences that those outside the store read: nobody has a name in them.</summary>
    public static CrewFile Unnamed { get; } = new("", []) { IsUnnamed = true };

    /// <summary>Whether everybody is somebody in sentences. It is no fact of the crew, so it is not stored.</summary>
    [JsonIgnore]
    public bool IsUnnamed { get; init; }

    /// <summary>Names that members had before. An erasure looks for these too.</summary>
    public IReadOnlyList<KnownName> FormerNames { get; init; } = [];

    /// <summary>Every name of every member, with the id.</summary>
    public IEnumerable<KnownName> AllNames =>
        Members.Select(member => new KnownName(member.Id, member.Name)).Concat(FormerNames);

    public CrewMember? Find(string person) => Members.FirstOrDefault(member => member.Id == person);

    /// <summary>The name as sentences have it; the quoted id of a person who is erased or never was in the crew.</summary>
    public string NameOf(string person) =>
        IsUnnamed ? Somebody : Find(person)?.Name ?? $"\"{person}\"";

    /// <summary>The names that a member has and had; none of a person who is erased.</summary>
    public IEnumerable<string> NamesOf(string person) =>
        AllNames.Where(known => known.Person == person).Select(known => known.Name);

    /// <summary>The crew with the member replaced, or added at the end.</summary>
    public CrewFile With(CrewMember member) => Find(member.Id) is not { } before ? this with { Members = [.. Members, member] }
        : this with
        {
            Members = [.. Members.Select(existing => existing.Id == member.Id ? member : existing)],
            FormerNames = before.Name == member.Name ? FormerNames : [.. FormerNames, new KnownName(before.Id, before.Name)],
        };

    public CrewFile Without(string person) => this with
    {
        Members = [.. Members.Where(member => member.Id != person)],
        FormerNames = [.. FormerNames.Where(known => known.Person != person)],
    };
}

/// <summary>A name of a person, with the id.</summary>
public sealed record KnownName(string Person, string Name);
