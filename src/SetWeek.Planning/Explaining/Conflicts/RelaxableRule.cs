using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// An instance of a rule that can be relaxed in a week. Instances are as a store lead sees them: one kit, one absence, one
/// person's rest, one night's hours. Relaxing an instance only removes restrictions, in any order and combination.
/// </summary>
/// <param name="Rule">The id of the rule.</param>
/// <param name="About">What the instance is about.</param>
/// <param name="Sentence">The instance in words.</param>
/// <param name="Relax">Returns the week without the instance.</param>
internal sealed record RelaxableRule(RuleId Rule, RuleSubject About, string Sentence, Func<Week, Week> Relax)
{
    private const int MaxNames = 6;

    /// <summary>The name within a list of instances: a person, a night or a display.</summary>
    public string Name { get; init; } = "";

    /// <summary>The trait that a ban instance bans; null for all other rules.</summary>
    public string? BannedTrait { get; init; }

    /// <summary>The item of a kit line of which pieces are missing; null for all other instances.</summary>
    public string? ShortItem { get; init; }

    /// <summary>The instances that form this group; empty for a single instance.</summary>
    public IReadOnlyList<RelaxableRule> Parts { get; init; } = [];

    public Breach Breach => new(Rule, About, Sentence);

    /// <summary>Groups instances of one rule; null if there are none, the instance itself if there is only one.</summary>
    /// <param name="heading">The heading before their names, for example "Rest between shifts".</param>
    /// <param name="parts">The instances.</param>
    public static RelaxableRule? Group(string heading, IReadOnlyList<RelaxableRule> parts) =>
        parts.Count == 0 ? null : parts.Count == 1 ? parts[0]
        : new(parts[0].Rule, new RuleSubject(), $"{heading}: {JoinedNames(parts)}.",
            week => parts.Aggregate(week, (relaxed, part) => part.Relax(relaxed))) { Name = heading, Parts = parts };

    /// <summary>The same group with fewer instances.</summary>
    public RelaxableRule WithParts(IReadOnlyList<RelaxableRule> parts) => Group(Name, parts)!;

    private static string JoinedNames(IReadOnlyList<RelaxableRule> parts)
    {
        var names = parts.Select(part => part.Name).Distinct().ToArray();
        return names.Length <= MaxNames + 1 ? string.Join(", ", names)
            : $"{string.Join(", ", names.Take(MaxNames))} and {names.Length - MaxNames} more";
    }
}
