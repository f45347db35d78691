using System.Globalization;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.Sentences;

/// <summary>Describes a report on a snag in a sentence, without what is wrong: that is a note.</summary>
internal static class SnagSentences
{
    public static string Of(StoreWeek week, CrewFile crew, ISnagReport report) => report switch
    {
        SnagRaised snag => $"Snag {snag.Number} was raised: {SnagPhrases.Place(week, snag)}"
            + $"{(snag.Safety ? ", somebody could be hurt" : "")}. "
            + $"Owner: {SnagPhrases.Owner(crew, snag.Owner)}, by {Day(snag.Due)}.",
        SnagFixed => $"{Snag(week, report)} was put right {Phrases.Time(report.At.LocalDateTime)}.",
        SnagReopened => $"{Snag(week, report)} is not right after all.",
        SnagHandedOn handed => $"{Snag(week, report)} {Phrases.List(Changes(crew, handed))}.",
        SnagAcceptedOpen => $"{Snag(week, report)} was accepted as it is.",
        _ => throw new ArgumentException($"{report.GetType().Name} has no sentence.", nameof(report)),
    };

    private static IEnumerable<string> Changes(CrewFile crew, SnagHandedOn handed)
    {
        if (handed.Owner is { } owner) yield return $"went to {SnagPhrases.Owner(crew, owner)}";
        if (handed.Due is { } due) yield return $"is to be right by {Day(due)}";
    }

    private static string Snag(StoreWeek week, ISnagReport report) =>
        week.Facts.SnagNumbers.TryGetValue(report.Snag, out var number) ? $"Snag {number}" : "A snag that has not arrived";

    private static string Day(LocalDate day) => day.ToString("ddd d MMM", CultureInfo.InvariantCulture);
}
