using System.Text.RegularExpressions;
using SetWeek.Domain.Crews;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Plans;

/// <summary>
/// Keeps the names of people out of what is stored. The sentences of a stored candidate, and that of a broken plan, hold a mark
/// in place of each name, and a reader gets the name that the person has then. A published plan contains only ids.
/// </summary>
public static partial class NameRemoval
{
    /// <summary>A shorter part of a name may be any word, so it is left in notes.</summary>
    private const int ShortestPart = 3;

    /// <summary>The candidate as it is stored.</summary>
    public static CandidatePlan WithMarkedNames(this CandidatePlan candidate, CrewFile crew) =>
        candidate.MapSentences(sentence => WithMarkedNames(sentence, crew));

    /// <summary>A sentence as it is stored.</summary>
    public static string WithMarkedNames(string sentence, CrewFile crew) =>
        ReplaceNames(sentence, crew, person => $"{{person:{person}}}");

    /// <summary>The candidate as it is shown. A person who is erased is shown by the id.</summary>
    public static CandidatePlan WithNames(this CandidatePlan candidate, CrewFile crew) =>
        candidate.MapSentences(sentence => WithNames(sentence, crew));

    /// <summary>A stored sentence as it is shown.</summary>
    public static string WithNames(string sentence, CrewFile crew) =>
        ReplaceMarks(sentence, crew.NameOf);

    /// <summary>A stored sentence as those outside the store read it: without saying who.</summary>
    public static string WithoutPeople(string sentence) =>
        Phrases.Capitalised(ReplaceMarks(sentence, _ => CrewFile.Somebody));

    /// <summary>The plan with ids in place of names and marks.</summary>
    public static Plan WithoutNames(this Plan plan, CrewFile crew) => plan.MapSentences(
        sentence => ReplaceNames(ReplaceMarks(sentence, person => person), crew, person => person));

    /// <summary>
    /// Free text without a person: each name that the person has had, and each longer part of one, becomes the id. It may replace
    /// a word that means something else, which an erasure has to accept.
    /// </summary>
    public static string WithoutPerson(string text, CrewFile crew, string person) =>
        crew.NamesOf(person).SelectMany(name => name.Split(' ').Where(part => part.Length >= ShortestPart).Prepend(name))
            .OrderByDescending(part => part.Length)
            .Aggregate(text, (left, part) => ReplaceWord(left, part, person, RegexOptions.IgnoreCase));

    private static CandidatePlan MapSentences(this CandidatePlan candidate, Func<string, string> map) => candidate with
    {
        Plan = candidate.Plan?.MapSentences(map),
        Options = [.. candidate.Options
            .Select(option => option with { Name = map(option.Name), Sentence = map(option.Sentence) })],
    };

    private static Plan MapSentences(this Plan plan, Func<string, string> map) => plan with
    {
        Breaches = [.. plan.Breaches.Select(breach => breach with { Sentence = map(breach.Sentence) })],
        Conflict = [.. plan.Conflict.Select(breach => breach with { Sentence = map(breach.Sentence) })],
        Tight = [.. plan.Tight.Select(breach => breach with { Sentence = map(breach.Sentence) })],
        Repairs = [.. plan.Repairs.Select(repair => repair with { Sentence = map(repair.Sentence) })],
        Unplaced = [.. plan.Unplaced.Select(breach => breach with { Sentence = map(breach.Sentence) })],
        Notes = [.. plan.Notes.Select(map)],
    };

    private static string ReplaceMarks(string sentence, Func<string, string> replacement) =>
        Mark().Replace(sentence, mark => replacement(mark.Groups[1].Value));

    /// <summary>
    /// Replaces whole words, longer names first, because one name may be the beginning of another: "Asha Rowan", "Asha
    /// Rowan-Lee".
    /// </summary>
    private static string ReplaceNames(string sentence, CrewFile crew, Func<string, string> replacement) =>
        crew.AllNames.OrderByDescending(known => known.Name.Length).Aggregate(sentence,
            (text, known) => ReplaceWord(text, known.Name, replacement(known.Person), RegexOptions.None));

    private static string ReplaceWord(string text, string word, string replacement, RegexOptions options) =>
        Regex.Replace(text, $@"(?<!\w){Regex.Escape(word)}(?!\w)", replacement.Replace("$", "$$"), options);

    [GeneratedRegex(@"\{person:([a-z0-9][a-z0-9.-]*)\}")]
    private static partial Regex Mark();
}
