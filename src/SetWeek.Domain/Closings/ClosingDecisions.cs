using OneOf;
using SetWeek.Domain.Checks;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Closings;

/// <summary>The decision to close a night.</summary>
public static class ClosingDecisions
{
    /// <summary>
    /// Closes a night: everybody is out by name, the ways out are clear, and whoever closes has decided about each thing that is
    /// half-secured. Unfinished work and zones that are not clean do not keep a night from being closed.
    /// </summary>
    /// <param name="closing">
    /// As stated: its shut zones are those that the lead names. Those of a stop, or of work that is shut off, are added.
    /// </param>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> CloseNight(this StoreWeek week, NightClosed closing)
    {
        if (NightReferences.Unknown(week, closing.Night, closing.Out) is { } unknown) return unknown;
        if (closing.ShutZones.FirstOrDefault(zone => week.Week.Store.Zones.All(known => known.Id != zone)) is { } zone)
            return new Refusal("unknown-zone", $"There is no zone \"{zone}\" in this store.");
        if (week.Recorded(closing).TryPickT1(out var refusal, out var recorded)) return refusal;
        if (recorded is null) return Array.Empty<IWeekEvent>();
        var night = NightRecord.Of(week, closing.Night);
        if (night.Opened is null)
            return new Refusal("not-opened", "This night is not opened yet. Record first who is there.");
        if (night.Closed is { } closed && closed.Report != closing.Corrects)
            return new Refusal("closed-already",
                $"{Phrases.Capitalised(Phrases.Night(week.Week, closing.Night))} was closed "
                + $"{Phrases.Time(closed.At.LocalDateTime)}. To change that, correct its report or take it back.");
        var remains = NightRemains.Of(week, closing.Night);
        return StillInside(closing, remains) ?? Unanswered(closing) ?? NotPassed(closing) ?? Undecided(closing, remains)
            ?? (OneOf<IReadOnlyList<IWeekEvent>, Refusal>)new IWeekEvent[] { WithMorning(week, closing, remains) };
    }

    private static Refusal? StillInside(NightClosed closing, NightRemains remains) =>
        remains.Inside.Except(closing.Out).Count() is > 0 and var count
            ? new Refusal("still-inside", $"{count} {(count == 1 ? "person is" : "people are")} recorded as in the store and not "
                + "named as out. Call into every room, then name each of them. The alarm is set last.")
            : null;

    private static Refusal? Unanswered(NightClosed closing)
    {
        var (checks, answered) = (StandardChecks.All.Closing, closing.Answers.Select(answer => answer.Check).ToHashSet());
        if (answered.Except(checks.Select(check => check.Id)).FirstOrDefault() is { } other)
            return new Refusal("unknown-check", $"There is no check \"{other}\" of closing.");
        return checks.Where(check => !answered.Contains(check.Id)).ToList() is { Count: > 0 } left
            ? new Refusal("unanswered", "Answer every check of closing first.")
                { Because = [.. left.Select(check => check.Sentence)] }
            : null;
    }

    private static Refusal? NotPassed(NightClosed closing) =>
        StandardChecks.All.Closing.Where(check => check.IsRequired && closing.Answers.Any(
            answer => answer.Check == check.Id && answer.Answer == CheckResult.NotGood)).ToList() is { Count: > 0 } failed
            ? new Refusal("not-passed", "Put this right before the night is closed.")
                { Because = [.. failed.Select(check => check.Sentence)] }
            : null;

    private static Refusal? Undecided(NightClosed closing, NightRemains remains) =>
        remains.HalfSecured.Where(open => closing.HalfSecured.All(decided => decided.Task != open.Securing.Id)).ToList()
            is { Count: > 0 } undecided
            ? new Refusal("half-secured",
                "Something is half-secured. Secure it or take it down; otherwise decide about each, say "
                + "why, and keep its zone shut.") { Because = [.. undecided.Select(open => open.Sentence)] }
            : null;

    private static NightClosed WithMorning(StoreWeek week, NightClosed closing, NightRemains remains)
    {
        var left = remains.HalfSecured.Select(task => task.Securing.Id).ToHashSet();
        var open = closing.HalfSecured.Where(decided => left.Contains(decided.Task)).ToList();
        var shutOff = open.Where(decided => decided.Decision == HalfSecuredDecision.ShutOff)
            .Select(decided => decided.Task).ToHashSet();
        var shut = remains.HalfSecured.Where(task => shutOff.Contains(task.Securing.Id))
            .SelectMany(task => new[] { task.Begun.Zone, task.Securing.Zone })
            .Concat(remains.StoppedZones(week)).Concat(closing.ShutZones).ToHashSet();
        return closing with
        {
            HalfSecured = open,
            ShutZones = [.. week.Week.Store.Zones.Select(zone => zone.Id).Where(shut.Contains)],
            NotClean = [.. remains.NotClean.Select(zone => zone.Id)],
        };
    }
}
