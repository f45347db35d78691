using System.Globalization;
using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Words;

/// <summary>What head office reads of a week in the morning. Nobody is named.</summary>
public static class LedgerSentences
{
    public static string Stop(OpenStop stop) =>
        $"Work is stopped in {stop.Zone ?? "the whole store"} since {At(stop.Since)}: somebody found it not safe.";

    public static string Silence(Silence silence) => silence.LastHeard is { } heard
        ? $"Last heard {At(heard)}." : "Never heard.";

    /// <summary>What was to happen meanwhile.</summary>
    public static string Expected(Silence silence) =>
        $"The night of {WeekLabels.Day(silence.Night.Opens)} opens {WeekLabels.Time(silence.Night.Opens)} and closes "
        + $"{WeekLabels.Time(silence.Night.Closes)}"
        + (silence.Night.Pieces is { } pieces ? $", with {Count(pieces, "piece", "pieces")} of work planned." : ".");

    public static string Progress(WeekFigures week) => week.Stage switch
    {
        WeekStage.Unplanned => "No plan is published.",
        WeekStage.Published => "A plan is published, and nothing is begun.",
        WeekStage.Done => "Everything is done.",
        _ => $"{week.TasksDone} of {Count(week.Tasks, "task", "tasks")} and {week.DisplaysDone} of "
            + $"{Count(week.Displays, "display", "displays")} are done.",
    };

    public static string Heard(WeekFigures week) => week.LastReport is { } last
        ? $"Last heard {At(last.InZone(DateTimeZoneProviders.Tzdb[week.TimeZone]).LocalDateTime)}." : "Never heard.";

    /// <summary>What can be done about a launch at risk, where nothing can be decided from outside the store.</summary>
    public static IEnumerable<string> WayOut(WeekFigures week) => week.Alternates.Count > 0 ? []
        : week.PublishedPlan is null ? ["The lead asks for a plan and publishes it."]
        : ["No alternate is left here. The lead asks for a plan from what is known now, and it names what would help."];

    public static string Alternate(OpenAlternate alternate) =>
        $"{alternate.Instead} may be built instead of {alternate.Name}. Nothing of {alternate.Name} is begun. "
        + "Whether the launch then holds is known once the lead has asked for a plan.";

    /// <summary>A memo that asks a store how it stands, to begin from.</summary>
    /// <param name="direction">The name of the direction.</param>
    /// <param name="ledger">The weeks of the direction in that store.</param>
    public static string Asking(string direction, StoreLedger ledger)
    {
        IReadOnlyList<string> known =
        [
            .. ledger.Unsafe.SelectMany(week => week.Figures.Stops.Select(Stop)),
            .. ledger.AtRisk.SelectMany(week => week.Outlook.Because),
            .. ledger.Silent.Select(week => Silence(week.Silence!)),
        ];
        return string.Join(' ', (string[])
        [
            $"How does {direction} stand in your store, and what do you need from us?",
            "Please write it under Questions, to head office.",
            .. known.Count == 0 ? (string[])[] : [$"What we read here: {string.Join(' ', known)}"],
        ]);
    }

    public static string At(LocalDateTime time) => time.ToString("dddd d MMMM, HH:mm", CultureInfo.InvariantCulture);

    public static string Count(long number, string one, string several) =>
        string.Create(CultureInfo.InvariantCulture, $"{number:N0} {(number == 1 ? one : several)}");
}
