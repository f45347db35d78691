using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders;

/// <summary>
/// Bipartite matching of people and required skills by augmenting paths (Kuhn). People listed first are preferred.
/// </summary>
internal static class BipartiteMatching
{
    /// <summary>An assignment for every required person of the mode, or null if these people cannot fill them all.</summary>
    public static IReadOnlyList<Assignment>? Of(ActivityMode mode, IReadOnlyList<Person> people)
    {
        RequiredSkill[] positions = [.. mode.RequiredSkills.SelectMany(required => Enumerable.Repeat(required, required.People))];
        var taken = new Person?[positions.Length];
        for (var position = 0; position < positions.Length; position++)
            if (!Fill(position, [])) return null;
        return [.. positions.Select((required, position) => new Assignment(taken[position]!.Index, required.Skill))];

        bool Fill(int position, HashSet<int> visited)
        {
            foreach (var person in people.Where(person => person.Meets(positions[position]) && visited.Add(person.Index)))
            {
                var previous = Array.IndexOf(taken, person);
                if (previous >= 0 && !Fill(previous, visited)) continue;
                taken[position] = person;
                return true;
            }
            return false;
        }
    }
}
