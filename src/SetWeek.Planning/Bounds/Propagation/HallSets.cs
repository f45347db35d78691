using System.Numerics;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Sets of people, as bits, that some work must be done by: those able to fill each post, unions of these, and the whole
/// crew. By Hall's theorem work can be shared out at a moment if and only if, for each set, the posts that only it can fill
/// want no more people than it has; as rows of a relaxation any choice of sets is sound, more are tighter.
/// </summary>
internal sealed class HallSets
{
    private readonly Problem problem;
    private readonly Dictionary<(RequiredSkill, int Task), ulong> eligible = [];

    public HallSets(Problem problem, int maxSets = 96)
    {
        this.problem = problem;
        WholeCrew = problem.Crew.Aggregate(0UL, (bits, person) => bits | 1UL << person.Index);
        var single = problem.Tasks
            .SelectMany(task => task.Modes.SelectMany(mode => mode.RequiredSkills).Distinct().Select(post => Eligible(post, task)))
            .Concat(problem.Zones.Where(zone => zone.CleanDown is not null).SelectMany(zone => zone.CleanDown!.RequiredSkills)
                .Select(post => Eligible(post, null)))
            .Where(bits => bits != 0).Distinct().Order().ToArray();
        var sets = single.ToHashSet();
        sets.Add(WholeCrew);
        foreach (var one in single)
            foreach (var other in single)
                if (sets.Count < maxSets) sets.Add(one | other);
        Sets = [.. sets.OrderBy(BitOperations.PopCount).ThenBy(bits => bits)];
    }

    public ulong WholeCrew { get; }

    /// <summary>Smallest first; the whole crew among them.</summary>
    public IReadOnlyList<ulong> Sets { get; }

    /// <param name="requirement">What is wanted.</param>
    /// <param name="task">Whose traits may bar young workers; null for a clean-down.</param>
    public ulong Eligible(RequiredSkill requirement, IndexedTask? task)
    {
        if (eligible.TryGetValue((requirement, task?.Index ?? -1), out var bits)) return bits;
        return eligible[(requirement, task?.Index ?? -1)] = StartDomains.Eligible(problem, requirement, task);
    }

    /// <summary>People that a way takes from the set at the least: those whose posts nobody outside it can fill.</summary>
    public int MinPeopleFrom(ulong set, ActivityMode mode, IndexedTask? task)
    {
        var taken = 0;
        foreach (var post in mode.RequiredSkills)
            if ((Eligible(post, task) & ~set) == 0) taken += post.People;
        return taken;
    }

    public static bool Contains(ulong set, int person) => (set >> person & 1) == 1;
}
