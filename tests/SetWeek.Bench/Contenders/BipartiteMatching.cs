using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders;

/// <summary>People to posts by augmenting paths, those named first preferred.</summary>
internal static class BipartiteMatching
{
    /// <summary>Somebody for each place of the way; null where these people cannot fill them all.</summary>
    public static IReadOnlyList<Assignment>? Of(ActivityMode mode, IReadOnlyList<Person> people)
    {
        RequiredSkill[] places = [.. mode.RequiredSkills.SelectMany(post => Enumerable.Repeat(post, post.People))];
        var taken = new Person?[places.Length];
        for (var place = 0; place < places.Length; place++)
            if (!Fill(place, [])) return null;
        return [.. places.Select((post, place) => new Assignment(taken[place]!.Index, post.Skill))];

        bool Fill(int place, HashSet<int> asked)
        {
            foreach (var person in people.Where(person => person.Meets(places[place]) && asked.Add(person.Index)))
            {
                var before = Array.IndexOf(taken, person);
                if (before >= 0 && !Fill(before, asked)) continue;
                taken[place] = person;
                return true;
            }
            return false;
        }
    }
}
