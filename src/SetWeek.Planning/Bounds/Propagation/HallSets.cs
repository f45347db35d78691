using System.Numerics;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Sets of people for Hall's condition (Hall 1935), as bit sets by person: the people eligible for each skill requirement, the
/// unions of two of these sets, and the whole crew. By Hall's theorem the requirements at one moment can be filled exactly
/// where no set of people is smaller than the number of positions that only its members can fill. A relaxation is sound with
/// any choice of sets and tighter with more of them.
/// </summary>
internal sealed class HallSets
{
    private readonly Problem problem;
    private readonly Dictionary<(RequiredSkill, int Task), ulong> eligible = [];

    public HallSets(Problem problem, int maxSets = 96)
    {
        this.problem = problem;
        var wholeCrew = problem.Crew.Aggregate(0UL, (bits, person) => bits | 1UL << person.Index);
        var single = problem.Tasks
            .SelectMany(task => task.Modes.SelectMany(mode => mode.RequiredSkills).Distinct()
                .Select(requirement => Eligible(requirement, task)))
            .Concat(problem.Zones.Where(zone => zone.CleanDown is not null).SelectMany(zone => zone.CleanDown!.RequiredSkills)
                .Select(requirement => Eligible(requirement, null)))
            .Where(bits => bits != 0).Distinct().Order().ToArray();
        var sets = single.ToHashSet();
        sets.Add(wholeCrew);
        foreach (var first in single)
            foreach (var second in single)
                if (sets.Count < maxSets) sets.Add(first | second);
        Sets = [.. sets.OrderBy(BitOperations.PopCount).ThenBy(bits => bits)];
    }

    /// <summary>In order of size, smallest first. Contains the whole crew.</summary>
    public IReadOnlyList<ulong> Sets { get; }

    /// <summary>The people who can fill a skill requirement, as a bit set.</summary>
    /// <param name="requirement">The skill and its level.</param>
    /// <param name="task">The task, whose traits can bar young workers; null for a clean-down.</param>
    public ulong Eligible(RequiredSkill requirement, IndexedTask? task)
    {
        if (eligible.TryGetValue((requirement, task?.Index ?? -1), out var bits)) return bits;
        return eligible[(requirement, task?.Index ?? -1)] = StartDomains.Eligible(problem, requirement, task);
    }

    /// <summary>
    /// Fewest people that a mode takes from the set: those of its requirements that nobody outside the set can fill.
    /// </summary>
    public int MinPeopleFrom(ulong set, ActivityMode mode, IndexedTask? task)
    {
        var people = 0;
        foreach (var requirement in mode.RequiredSkills)
            if ((Eligible(requirement, task) & ~set) == 0) people += requirement.People;
        return people;
    }

    public static bool Contains(ulong set, int person) => (set >> person & 1) == 1;
}
