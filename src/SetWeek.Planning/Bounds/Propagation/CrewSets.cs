using System.Numerics;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Sets of people, as bits, that some work must be done by: those able to fill each post, unions of these, and the whole
/// crew. By Hall's theorem work can be shared out at a moment if and only if, for each set, the posts that only it can fill
/// want no more people than it has; as rows of a relaxation any choice of sets is sound, more are tighter.
/// </summary>
internal sealed class CrewSets
{
    private readonly Problem problem;
    private readonly Dictionary<(Post, int Task), ulong> able = [];

    public CrewSets(Problem problem, int most = 96)
    {
        this.problem = problem;
        All = problem.Crew.Aggregate(0UL, (bits, person) => bits | 1UL << person.Index);
        var single = problem.Activities
            .SelectMany(task => task.Ways.SelectMany(way => way.Posts).Distinct().Select(post => Able(post, task)))
            .Concat(problem.Zones.Where(zone => zone.CleanDown is not null).SelectMany(zone => zone.CleanDown!.Posts)
                .Select(post => Able(post, null)))
            .Where(bits => bits != 0).Distinct().Order().ToArray();
        var sets = single.ToHashSet();
        sets.Add(All);
        foreach (var one in single)
            foreach (var other in single)
                if (sets.Count < most) sets.Add(one | other);
        Sets = [.. sets.OrderBy(BitOperations.PopCount).ThenBy(bits => bits)];
    }

    public ulong All { get; }

    /// <summary>Smallest first; the whole crew among them.</summary>
    public IReadOnlyList<ulong> Sets { get; }

    /// <param name="post">What is wanted.</param>
    /// <param name="task">Whose traits may bar young workers; null for a clean-down.</param>
    public ulong Able(Post post, Activity? task)
    {
        if (able.TryGetValue((post, task?.Index ?? -1), out var bits)) return bits;
        return able[(post, task?.Index ?? -1)] = StartRooms.Able(problem, post, task);
    }

    /// <summary>People that a way takes from the set at the least: those whose posts nobody outside it can fill.</summary>
    public int Takes(ulong set, Way way, Activity? task)
    {
        var taken = 0;
        foreach (var post in way.Posts)
            if ((Able(post, task) & ~set) == 0) taken += post.People;
        return taken;
    }

    public static bool Holds(ulong set, int person) => (set >> person & 1) == 1;
}
