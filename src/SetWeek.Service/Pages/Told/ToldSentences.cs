using NodaTime;
using SetWeek.Domain.Notifications;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Told;

/// <summary>Who was told, has seen and has answered what a plan changes, as users read it.</summary>
public static class ToldSentences
{
    /// <summary>"Monday 8 March, 11:46".</summary>
    public static string Time(OffsetDateTime time) =>
        $"{WeekLabels.Day(time.LocalDateTime)}, {WeekLabels.Time(time.LocalDateTime)}";

    /// <summary>How many of those whom the issue concerns know of it and agree.</summary>
    public static IEnumerable<string> Of(ToldCounts counts)
    {
        if (counts.People == 0)
        {
            yield return "It changes nothing for anybody.";
            yield break;
        }
        yield return $"It changes something for {People(counts.People)}, {About(counts)}.";
        yield return counts.Uninformed == 0 ? "All of them were told or have seen it."
            : $"{Capitalised(People(counts.Uninformed))} "
                + $"{(counts.Uninformed == 1 ? "was not told and has" : "were not told and have")} not seen it.";
        if (counts.AtShortNotice > 0) yield return $"A shift changes at short notice for {People(counts.AtShortNotice)}.";
        if (counts.AtShortNotice > 0 || counts.Agreed + counts.Declined > 0)
            yield return $"{Capitalised(People(counts.Agreed))} agreed"
                + $"{(counts.Declined == 0 ? "" : $"; {People(counts.Declined)} cannot come")}.";
    }

    /// <summary>What is known of a person's being told, a sentence each.</summary>
    /// <param name="publisher">The id of whoever published the plan, and so agrees with it; null if it is not recorded.</param>
    /// <param name="nameOf">The name of a person, by id.</param>
    public static IEnumerable<string> Of(ToldPerson person, string? publisher, Func<string, string> nameOf)
    {
        if (person.Told.Count == 0 && person.Seen is null) yield return "Not told yet, and not seen.";
        foreach (var told in person.Told)
            yield return $"Told {Time(told.At)}, {How(told.How)}, by {nameOf(told.By)}.";
        if (person.Seen is { } seen) yield return $"{(person.Person == publisher ? "Published it" : "Seen")} {Time(seen)}.";
        if (person.Answer is { } answer)
            yield return $"{Answer(answer.Answer)} {Time(answer.At)}"
                + (answer.ForThem ? $", as {nameOf(answer.By)} has recorded for them." : ".");
        else if (person.AtShortNotice && person.Person != publisher) yield return "No answer yet.";
    }

    public static string How(ToldHow how) => how switch
    {
        ToldHow.Said => "face to face",
        ToldHow.Called => "on the telephone",
        ToldHow.LeftMessage => "by a message left",
    };

    public static string Answer(ChangesAnswer answer) => answer switch
    {
        ChangesAnswer.Seen => "Said that they have seen it",
        ChangesAnswer.Agreed => "Agreed",
        ChangesAnswer.Declined => "Said that they cannot",
    };

    private static string About(ToldCounts counts) => counts.AboutShifts == 0 ? "whose shifts stay"
        : counts.AboutShifts == counts.People ? (counts.People == 1 ? "about a shift" : "all about a shift")
        : $"{counts.AboutShifts} of them about a shift";

    private static string People(int count) => count == 1 ? "one person" : count == 0 ? "nobody" : $"{count} people";

    private static string Capitalised(string text) => $"{char.ToUpperInvariant(text[0])}{text[1..]}";
}
