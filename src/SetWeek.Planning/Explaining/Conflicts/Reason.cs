using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// A certificate's proof in a lead's words: what does not fit, with its figures.
/// </summary>
internal static class Reason
{
    public static Breach Own(Problem problem, Certificates proof) => proof.Windows.Placing.Contradiction is { } display
        ? NoRoom(problem, proof, display) : Shortage(problem, proof.Shortage!);

    private static Breach NoRoom(Problem problem, Certificates proof, Exhibit display)
    {
        // What waits for a kit that cannot be waited for empties the windows of its neighbours too: it is named, not they.
        var stint = problem.Stints.FirstOrDefault(stint => stint.Task.KitsIn == Problem.Never
                && problem.Displays[stint.Task.Display] is { Must: true, Alternate: null })
            ?? problem.Stints.FirstOrDefault(stint => stint.Task.Display == display.Index
                && !proof.Windows.Possible(stint.Index));
        return stint is null
            ? new("whole", new About { Display = display.Id },
                $"The display “{display.Name}” must stand, and so must the one that replaces it.")
            : new("whole", Say.About(problem, stint) with { Display = problem.Displays[stint.Task.Display].Id },
                $"With all that is asked, no night is left for “{stint.Task.Name}” of "
                    + $"“{problem.Displays[stint.Task.Display].Name}”.");
    }

    private static Breach Shortage(Problem problem, Energy.Shortage shortage)
    {
        var (first, last) = (problem.Nights[shortage.FirstNight].Id, problem.Nights[shortage.LastNight].Id);
        var (when, night) = first == last ? ($"in {InWords.Night(problem.Week, first)}", first)
            : ($"from {InWords.Night(problem.Week, first)} to {InWords.Night(problem.Week, last)}", null);
        if (shortage.Equipment is { } index)
        {
            var piece = problem.Week.Store.Equipment[index].Id;
            return new("equipment", new About { Equipment = piece, Night = night },
                $"Work with “{piece}” takes {Say.Length((int)shortage.Asked)} {when}; there are "
                    + $"{Say.Length((int)shortage.Has)}.");
        }
        var people = problem.Crew.Where(person => CrewSets.Holds(shortage.Set, person.Index)).ToArray();
        var skill = people.Length == problem.Crew.Count ? null : problem.Skills.FirstOrDefault(skill =>
            problem.Crew.All(person => people.Contains(person) == person.Levels[problem.SkillOf(skill)] > 0));
        var who = skill is not null ? $"those with the skill “{skill}”"
            : people.Length == problem.Crew.Count ? "the crew"
                : string.Join(", ", people.Select(person => person.Name)) + " alone";
        return new(skill is null ? "availability" : "skill", new About { Skill = skill, Night = night },
            $"Work for {who} takes {Say.Length((int)shortage.Asked)} {when}; they can give {Say.Length((int)shortage.Has)} at "
                + "the most.");
    }

    public static bool Concerns(About fact, About proof) =>
        (fact.Task is not null && fact.Task == proof.Task) || (fact.Skill is not null && fact.Skill == proof.Skill)
        || (fact.Equipment is not null && fact.Equipment == proof.Equipment);
}
