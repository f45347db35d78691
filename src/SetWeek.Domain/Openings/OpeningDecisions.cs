using OneOf;
using SetWeek.Domain.Checks;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Openings;

/// <summary>The decisions to record the opening of a night, and who comes and leaves.</summary>
public static class OpeningDecisions
{
    /// <summary>Opens a night. Nobody has to be there but the person who gives first aid: whoever comes later is added.</summary>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> OpenNight(this StoreWeek week, NightOpened opening)
    {
        if (NightReferences.Unknown(week, opening.Night, [.. opening.Here, opening.FirstAider]) is { } unknown) return unknown;
        if (week.Recorded(opening).TryPickT1(out var refusal, out var recorded)) return refusal;
        if (recorded is null) return Array.Empty<IWeekEvent>();
        if (NightRecord.Of(week, opening.Night).Opened is { } opened && opened.Report != opening.Corrects)
            return new Refusal("opened-already",
                $"{Phrases.Capitalised(Phrases.Night(week.Week, opening.Night))} was opened "
                + $"{Phrases.Time(opened.At.LocalDateTime)}. Add whoever came later one by one. To change what was said then, "
                + "correct its report or take it back.");
        if (!opening.Here.Contains(opening.FirstAider))
            return new Refusal("first-aider-not-here", "Whoever gives first aid must be there. Name somebody who is.");
        return StandardChecks.All.Briefing.Where(item => item.IsRequired && !opening.Said.Contains(item.Id)).ToList()
            is { Count: > 0 } unsaid
            ? new Refusal("not-said", "Say this aloud before the night is opened.")
                { Because = [.. unsaid.Select(item => item.Sentence)] }
            : new IWeekEvent[] { opening };
    }

    /// <summary>Records that somebody came or left. It is a fact, so the night need not be opened.</summary>
    /// <param name="report">A <see cref="PersonCame"/> or a <see cref="PersonLeft"/>.</param>
    /// <param name="person">The id of the person whom it is about.</param>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> RecordPresence(
        this StoreWeek week, INightReport report, string person) =>
        NightReferences.Unknown(week, report.Night, [person]) is { } unknown ? unknown
            : week.Recorded(report).MapT0(IReadOnlyList<IWeekEvent> (recorded) => recorded is null ? [] : [recorded]);
}
