using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// An instance of a rule that can be lifted from a week: which rule, what it is about, the sentence that says it, and the same
/// week without it. What an instance is, a store lead decides: this kit, this absence, this person's rest, this night's hours.
/// Lifting only ever takes something away, whatever else is lifted, and in whatever order.
/// </summary>
internal sealed record Relief(string Rule, About About, string Sentence, Func<Week, Week> Lift)
{
    private const int MostNames = 6;

    /// <summary>What it is called where several are named together: a person, a night, a display.</summary>
    public string Name { get; init; } = "";

    /// <summary>The instances of the same rule that this one is made of; none: it is one by itself.</summary>
    public IReadOnlyList<Relief> Parts { get; init; } = [];

    public Breach Breach => new(Rule, About, Sentence);

    /// <summary>Instances of one rule taken as one; null where there are none, the only one where there is one.</summary>
    /// <param name="all">What they are together, with the names to follow: "Rest between shifts".</param>
    /// <param name="parts">The instances.</param>
    public static Relief? Together(string all, IReadOnlyList<Relief> parts) => parts.Count < 2 ? parts.FirstOrDefault()
        : new(parts[0].Rule, new About(), $"{all}: {Names(parts)}.",
            week => parts.Aggregate(week, (lifted, part) => part.Lift(lifted))) { Name = all, Parts = parts };

    /// <summary>The same with fewer parts.</summary>
    public Relief Of(IReadOnlyList<Relief> parts) => Together(Name, parts)!;

    private static string Names(IReadOnlyList<Relief> parts)
    {
        var names = parts.Select(part => part.Name).Distinct().ToArray();
        return names.Length <= MostNames + 1 ? string.Join(", ", names)
            : $"{string.Join(", ", names.Take(MostNames))} and {names.Length - MostNames} more";
    }
}
