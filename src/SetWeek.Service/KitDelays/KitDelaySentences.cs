using NodaTime;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Plans;
using SetWeek.Service.Words;

namespace SetWeek.Service.KitDelays;

/// <summary>What head office reads of a kit that is late for many stores. Nobody is named.</summary>
public static class KitDelaySentences
{
    /// <summary>"Forms of First Rain".</summary>
    /// <param name="direction">Null if weeks were listed instead, or it is not known.</param>
    public static string Name(KitDelay delay, Direction? direction) => delay.Kit is not { } kit ? "Kits of several weeks"
        : $"{KitName(kit, direction)} of {direction?.Name ?? delay.Direction}";

    public static string Expected(LocalDateTime? eta) => eta is { } time
        ? $"It is now expected {LedgerSentences.At(time)}, by each store's own clock." : "Nobody knows when it comes.";

    /// <summary>How far it is, and what it means for all stores.</summary>
    /// <param name="reason">Why there are no weeks, or not all.</param>
    public static IEnumerable<string> Progress(ReadKitDelay.Sums sums, bool isCancelled, bool isSearching, string? reason)
    {
        if (isCancelled) yield return "It is cancelled: nothing more is planned or published for it.";
        if (reason is not null) yield return reason;
        if (isSearching) yield return "The weeks that wait for it are still being looked for.";
        if (sums.Weeks == 0) yield break;
        yield return $"It concerns {LedgerSentences.Count(sums.Weeks, "store", "stores")}.";
        if (sums.Open > 0) yield return $"For {LedgerSentences.Count(sums.Open, "store", "stores")} a plan is still awaited.";
        else if (!isSearching) yield return "Nothing is awaited any more.";
        if (sums.MissLaunch > 0)
            yield return $"{LedgerSentences.Count(sums.MissLaunch, "launch cannot", "launches cannot")} be kept: that is proven.";
        if (sums.LaunchNotKnown > 0)
            yield return $"Of {LedgerSentences.Count(sums.LaunchNotKnown, "launch", "launches")} it is not known.";
        if (sums.ToTell > 0)
            yield return $"{LedgerSentences.Count(sums.ToTell, "person is", "people are")} to be told of a change.";
        foreach (var cost in sums.Costs) yield return Wages(cost.Was, cost.Now, cost.Currency);
    }

    /// <summary>Why it concerns no week: all are looked at.</summary>
    /// <param name="direction">Null if it is not known.</param>
    public static string NoneWaits(KitDelay delay, Direction? direction) =>
        $"No open week of {direction?.Name ?? delay.Direction} waits for “{KitName(delay.Kit!, direction)}”.";

    private static string KitName(string kit, Direction? direction) =>
        direction?.Kits.FirstOrDefault(known => known.Id == kit)?.Name ?? kit;

    /// <summary>What has come of it in a store.</summary>
    public static IEnumerable<string> Of(KitDelayWeek week) => week.State switch
    {
        KitDelayState.Waiting => ["Not begun yet."],
        KitDelayState.Planning => ["The delay is recorded, and a new plan is being looked for."],
        KitDelayState.Planned => [.. Outcome(week.Outcome!), .. Reason(week)],
        KitDelayState.Published => ["The new plan is published, since it changes no shift.", .. Outcome(week.Outcome!)],
        KitDelayState.Recorded => ["The delay is recorded.", .. Reason(week)],
        KitDelayState.Refused => ["The delay is not recorded.", .. Reason(week)],
        KitDelayState.Superseded => ["The delay is recorded.", .. Reason(week)],
        KitDelayState.Cancelled when week.Plan is null => ["Cancelled before the delay was recorded."],
        KitDelayState.Cancelled => ["Cancelled. The delay stays recorded, and the lead asks for a plan."],
        KitDelayState.Failed => ["It could not be planned.", .. Reason(week)],
        _ => throw new ArgumentException($"No sentence for {week.State}.", nameof(week)),
    };

    private static IEnumerable<string> Reason(KitDelayWeek week) => week.Reason is { } reason ? [reason] : [];

    private static IEnumerable<string> Outcome(KitDelayOutcome outcome)
    {
        if (outcome.Launch == LaunchProspect.NotKnown)
        {
            yield return "No plan was found in the time given, and none is ruled out. The lead asks for one with more time.";
            yield break;
        }
        if (outcome.Launch == LaunchProspect.Missed)
        {
            yield return "No plan keeps the launch: that is proven.";
            foreach (var sentence in outcome.Conflict) yield return NameRemoval.WithoutPeople(sentence);
            foreach (var sentence in outcome.Repairs)
                yield return $"This would help, proven: {NameRemoval.WithoutPeople(sentence)}";
            yield break;
        }
        var changes = new[]
        {
            (outcome.Shifts, "shift changes", "shifts change"),
            (outcome.Moved, "piece of work moves to another night", "pieces of work move to another night"),
            (outcome.LeftOut.Count, "display is left out", "displays are left out"),
            (outcome.Told.Count, "person is to be told", "people are to be told"),
        }.Where(change => change.Item1 > 0).Select(change => LedgerSentences.Count(change.Item1, change.Item2, change.Item3))
            .ToList();
        yield return "The launch can be kept" + (changes.Count == 0 ? ", and nothing changes for anybody."
            : $": {WeekLabels.Join(changes)}.");
        if (outcome.Cost is { } cost) yield return Wages(cost.Was, cost.Now, outcome.Currency);
    }

    private static string Wages(long was, long now, string currency) =>
        was == now ? $"The wages stay at {Money.Of(now, currency)}."
            : $"The wages were {Money.Of(was, currency)} and become {Money.Of(now, currency)}.";
}
