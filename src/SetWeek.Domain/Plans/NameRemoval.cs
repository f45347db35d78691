using System.Text.RegularExpressions;
using SetWeek.Domain.Crews;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Plans;

/// <summary>Removes the names of people from plans that are stored in events, which are never erased.</summary>
public static class NameRemoval
{
    /// <summary>Replaces the names in the sentences of a plan by ids. Elsewhere a plan contains only ids.</summary>
    public static Plan WithoutNames(this Plan plan, CrewFile crew) => plan with
    {
        Breaches = [.. plan.Breaches.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Conflict = [.. plan.Conflict.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Tight = [.. plan.Tight.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Repairs = [.. plan.Repairs.Select(repair => repair with { Sentence = ReplaceNames(repair.Sentence, crew) })],
        Unplaced = [.. plan.Unplaced.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Notes = [.. plan.Notes.Select(note => ReplaceNames(note, crew))],
    };

    /// <summary>
    /// Replaces whole words, longer names first, because one name may be the beginning of another: "Asha Rowan", "Asha
    /// Rowan-Lee".
    /// </summary>
    private static string ReplaceNames(string sentence, CrewFile crew) =>
        crew.Members.OrderByDescending(member => member.Name.Length).Aggregate(sentence, (text, member) =>
            Regex.Replace(text, $@"(?<!\w){Regex.Escape(member.Name)}(?!\w)", member.Id));
}
