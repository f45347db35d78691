using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The people that a mode needs, as lower bounds on sets of people. By Hall's theorem (P. Hall, 1935) the assigned people can
/// fill all required skills exactly where, for every union of required skills, enough of them can fill one of its skills. So the
/// model decides only who is assigned. Who fills which skill is decided when the plan is read. A set has one bit for each
/// person; a week has at most 60 people.
/// </summary>
internal sealed class HallConditions
{
    private readonly Problem problem;
    private readonly ActivityMode mode;

    public HallConditions(Problem problem, ActivityMode mode)
    {
        (this.problem, this.mode) = (problem, mode);
        var needs = new Dictionary<ulong, int> { [0] = 0 };
        foreach (var requirements in mode.RequiredSkills.GroupBy(requirement => (requirement.Skill, requirement.Level)))
        {
            var eligible = EligibleFor(requirements.First());
            var people = requirements.Sum(requirement => requirement.People);
            foreach (var (set, need) in needs.ToArray())
                needs[set | eligible] = Math.Max(needs.GetValueOrDefault(set | eligible), need + people);
        }
        // A need of the empty set: some required skill that nobody has at its level.
        needs.Remove(0, out var unfillable);
        CanBeStaffed = unfillable == 0;
        // A condition is implied by that of a subset with the same need or more.
        MinPeopleBySet = [.. needs
            .Where(condition => !needs.Any(stronger => stronger.Key != condition.Key
                && (stronger.Key & ~condition.Key) == 0 && stronger.Value >= condition.Value))
            .OrderBy(condition => condition.Key).Select(condition => (condition.Key, condition.Value))];
        EligiblePeople = needs.Keys.Aggregate(0UL, (all, set) => all | set);
    }

    /// <summary>False where nobody has some required skill at its level.</summary>
    public bool CanBeStaffed { get; }

    /// <summary>Sets of people, and the least number of people needed from each. Implied conditions are left out.</summary>
    public IReadOnlyList<(ulong Set, int Need)> MinPeopleBySet { get; }

    /// <summary>Everybody who has one of the required skills.</summary>
    public ulong EligiblePeople { get; }

    /// <summary>Number of people that the mode needs.</summary>
    public int People => mode.People;

    /// <summary>The least number of people that must come from a set: the largest need among its subsets.</summary>
    public int MinPeopleFrom(ulong set)
    {
        var least = 0;
        foreach (var (subset, need) in MinPeopleBySet)
            if ((subset & ~set) == 0) least = Math.Max(least, need);
        return least;
    }

    /// <summary>
    /// Assigns a skill to each person by a maximum bipartite matching with augmenting paths; -1 for people who remain unmatched.
    /// </summary>
    public Assignment[] AssignmentsOf(IReadOnlyList<int> people)
    {
        RequiredSkill[] positions =
            [.. mode.RequiredSkills.SelectMany(requirement => Enumerable.Repeat(requirement, requirement.People))];
        var matched = Enumerable.Repeat(-1, positions.Length).ToArray();
        foreach (var person in people) TryAugment(person, positions, matched, new bool[positions.Length]);
        return [.. people.Select(person => new Assignment(
            person, Array.IndexOf(matched, person) is var position and >= 0 ? positions[position].Skill : -1))];
    }

    private bool TryAugment(int person, RequiredSkill[] positions, int[] matched, bool[] visited)
    {
        for (var position = 0; position < positions.Length; position++)
        {
            if (visited[position] || !problem.Crew[person].Meets(positions[position])) continue;
            visited[position] = true;
            if (matched[position] >= 0 && !TryAugment(matched[position], positions, matched, visited)) continue;
            matched[position] = person;
            return true;
        }
        return false;
    }

    private ulong EligibleFor(RequiredSkill requirement) =>
        problem.Crew.Where(person => person.Meets(requirement)).Aggregate(0UL, (set, person) => set | (1UL << person.Index));
}
