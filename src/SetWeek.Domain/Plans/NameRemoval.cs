using System.Text.RegularExpressions;
using SetWeek.Domain.Crews;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Plans;

/// <summary>Plans without the names of people, for what is never erased.</summary>
public static class NameRemoval
{
    /// <summary>A plan names people by id; its sentences, written for a lead, by name. Here they say the id too.</summary>
    public static Plan WithoutNames(this Plan plan, CrewFile crew) => plan with
    {
        Breaches = [.. plan.Breaches.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Conflict = [.. plan.Conflict.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Tight = [.. plan.Tight.Select(breach => breach with { Sentence = ReplaceNames(breach.Sentence, crew) })],
        Repairs = [.. plan.Repairs.Select(repair => repair with { Sentence = ReplaceNames(repair.Sentence, crew) })],
    };

    /// <summary>
    /// Longer names first: "Asha Rowan" is not the end of "Natasha Rowan", and may be the beginning of "Asha Rowan-Lee".
    /// </summary>
    private static string ReplaceNames(string sentence, CrewFile crew) =>
        crew.Members.OrderByDescending(member => member.Name.Length).Aggregate(sentence, (so, member) =>
            Regex.Replace(so, $@"(?<!\w){Regex.Escape(member.Name)}(?!\w)", member.Id));
}
