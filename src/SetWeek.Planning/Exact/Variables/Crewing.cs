using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// Whom a way of doing a job needs, as counts over sets of people. By Hall's theorem the people at work can be given the
/// posts, each one that they have the skill for, exactly where for every union of posts enough of them can fill one of it;
/// so nobody's post is decided until the plan is read back. A set is a bit by person: a week has at most 60.
/// </summary>
internal sealed class Crewing
{
    private readonly Problem problem;
    private readonly Way way;

    public Crewing(Problem problem, Way way)
    {
        (this.problem, this.way) = (problem, way);
        var needs = new Dictionary<ulong, int> { [0] = 0 };
        foreach (var alike in way.Posts.GroupBy(post => (post.Skill, post.Level)))
        {
            var (able, people) = (Able(alike.First()), alike.Sum(post => post.People));
            foreach (var (set, need) in needs.ToArray())
                needs[set | able] = Math.Max(needs.GetValueOrDefault(set | able), need + people);
        }
        needs.Remove(0, out var unable);
        // Posts that nobody can fill: no people are enough.
        Fillable = unable == 0;
        Needs = [.. needs
            .Where(one => !needs.Any(other => other.Key != one.Key && (other.Key & ~one.Key) == 0 && other.Value >= one.Value))
            .OrderBy(one => one.Key).Select(one => (one.Key, one.Value))];
        Everyone = needs.Keys.Aggregate(0UL, (all, set) => all | set);
    }

    /// <summary>False where some post can be filled by nobody.</summary>
    public bool Fillable { get; }

    /// <summary>Sets of people, and how many of each are needed at least.</summary>
    public IReadOnlyList<(ulong Set, int Need)> Needs { get; }

    /// <summary>All who can fill some post of it.</summary>
    public ulong Everyone { get; }

    public int People => way.People;

    /// <summary>Most that is needed of a set of people, those in it that nobody outside can replace.</summary>
    public int NeedOf(ulong set)
    {
        var most = 0;
        foreach (var (inside, need) in Needs)
            if ((inside & ~set) == 0) most = Math.Max(most, need);
        return most;
    }

    /// <summary>The people with the skill that each is there for; -1 for those whom the posts do not fit.</summary>
    public Hand[] HandsOf(IReadOnlyList<int> people)
    {
        Post[] seats = [.. way.Posts.SelectMany(post => Enumerable.Repeat(post, post.People))];
        var taken = Enumerable.Repeat(-1, seats.Length).ToArray();
        foreach (var person in people) Seat(person, seats, taken, new bool[seats.Length]);
        return [.. people.Select(person => new Hand(
            person, Array.IndexOf(taken, person) is var seat and >= 0 ? seats[seat].Skill : -1))];
    }

    private bool Seat(int person, Post[] seats, int[] taken, bool[] tried)
    {
        for (var seat = 0; seat < seats.Length; seat++)
        {
            if (tried[seat] || !problem.Crew[person].Has(seats[seat])) continue;
            tried[seat] = true;
            if (taken[seat] >= 0 && !Seat(taken[seat], seats, taken, tried)) continue;
            taken[seat] = person;
            return true;
        }
        return false;
    }

    private ulong Able(Post post) =>
        problem.Crew.Where(person => person.Has(post)).Aggregate(0UL, (set, person) => set | (1UL << person.Index));
}
