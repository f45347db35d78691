using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// An instance of a rule that can be lifted from a week: which rule, what it is about, the sentence that says it, and the same
/// week without it. What an instance is, a store lead decides: this kit, this absence, this person's rest, this night's hours.
/// Lifting only ever takes something away, whatever else is lifted, and in whatever order.
/// </summary>
internal sealed record RelaxableRule(RuleId Rule, RuleSubject About, string Sentence, Func<Week, Week> Relax)
{
    private const int MaxNames = 6;

    /// <summary>What it is called where several are named together: a person, a night, a display.</summary>
    public string Name { get; init; } = "";

    /// <summary>The instances of the same rule that this one is made of; none: it is one by itself.</summary>
    public IReadOnlyList<RelaxableRule> Parts { get; init; } = [];

    public Breach Breach => new(Rule, About, Sentence);

    /// <summary>Instances of one rule taken as one; null where there are none, the only one where there is one.</summary>
    /// <param name="heading">What they are together, with the names to follow: "Rest between shifts".</param>
    /// <param name="parts">The instances.</param>
    public static RelaxableRule? Group(string heading, IReadOnlyList<RelaxableRule> parts) => parts.Count < 2 ? parts.FirstOrDefault()
        : new(parts[0].Rule, new RuleSubject(), $"{heading}: {JoinedNames(parts)}.",
            week => parts.Aggregate(week, (lifted, part) => part.Relax(lifted))) { Name = heading, Parts = parts };

    /// <summary>The same with fewer parts.</summary>
    public RelaxableRule WithParts(IReadOnlyList<RelaxableRule> parts) => Group(Name, parts)!;

    private static string JoinedNames(IReadOnlyList<RelaxableRule> parts)
    {
        var names = parts.Select(part => part.Name).Distinct().ToArray();
        return names.Length <= MaxNames + 1 ? string.Join(", ", names)
            : $"{string.Join(", ", names.Take(MaxNames))} and {names.Length - MaxNames} more";
    }
}
