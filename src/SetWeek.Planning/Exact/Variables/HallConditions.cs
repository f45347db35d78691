using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// Whom a way of doing a job needs, as counts over sets of people. By Hall's theorem the people at work can be given the
/// posts, each one that they have the skill for, exactly where for every union of posts enough of them can fill one of it;
/// so nobody's post is decided until the plan is read back. A set is a bit by person: a week has at most 60.
/// </summary>
internal sealed class HallConditions
{
    private readonly Problem problem;
    private readonly ActivityMode mode;

    public HallConditions(Problem problem, ActivityMode mode)
    {
        (this.problem, this.mode) = (problem, mode);
        var needs = new Dictionary<ulong, int> { [0] = 0 };
        foreach (var alike in mode.RequiredSkills.GroupBy(post => (post.Skill, post.Level)))
        {
            var (able, people) = (EligibleFor(alike.First()), alike.Sum(post => post.People));
            foreach (var (set, need) in needs.ToArray())
                needs[set | able] = Math.Max(needs.GetValueOrDefault(set | able), need + people);
        }
        needs.Remove(0, out var unable);
        // Posts that nobody can fill: no people are enough.
        CanBeStaffed = unable == 0;
        MinPeopleBySet = [.. needs
            .Where(one => !needs.Any(other => other.Key != one.Key && (other.Key & ~one.Key) == 0 && other.Value >= one.Value))
            .OrderBy(one => one.Key).Select(one => (one.Key, one.Value))];
        EligiblePeople = needs.Keys.Aggregate(0UL, (all, set) => all | set);
    }

    /// <summary>False where some post can be filled by nobody.</summary>
    public bool CanBeStaffed { get; }

    /// <summary>Sets of people, and how many of each are needed at least.</summary>
    public IReadOnlyList<(ulong Set, int Need)> MinPeopleBySet { get; }

    /// <summary>All who can fill some post of it.</summary>
    public ulong EligiblePeople { get; }

    public int People => mode.People;

    /// <summary>Most that is needed of a set of people, those in it that nobody outside can replace.</summary>
    public int MinPeopleFrom(ulong set)
    {
        var most = 0;
        foreach (var (inside, need) in MinPeopleBySet)
            if ((inside & ~set) == 0) most = Math.Max(most, need);
        return most;
    }

    /// <summary>The people with the skill that each is there for; -1 for those whom the posts do not fit.</summary>
    public Assignment[] AssignmentsOf(IReadOnlyList<int> people)
    {
        RequiredSkill[] seats = [.. mode.RequiredSkills.SelectMany(post => Enumerable.Repeat(post, post.People))];
        var taken = Enumerable.Repeat(-1, seats.Length).ToArray();
        foreach (var person in people) TryAugment(person, seats, taken, new bool[seats.Length]);
        return [.. people.Select(person => new Assignment(
            person, Array.IndexOf(taken, person) is var seat and >= 0 ? seats[seat].Skill : -1))];
    }

    private bool TryAugment(int person, RequiredSkill[] positions, int[] matched, bool[] visited)
    {
        for (var seat = 0; seat < positions.Length; seat++)
        {
            if (visited[seat] || !problem.Crew[person].Meets(positions[seat])) continue;
            visited[seat] = true;
            if (matched[seat] >= 0 && !TryAugment(matched[seat], positions, matched, visited)) continue;
            matched[seat] = person;
            return true;
        }
        return false;
    }

    private ulong EligibleFor(RequiredSkill requirement) =>
        problem.Crew.Where(person => person.Meets(requirement)).Aggregate(0UL, (set, person) => set | (1UL << person.Index));
}
