using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.HandOvers;

/// <summary>The decisions to accept the finished week, and to withdraw that.</summary>
public static class HandOverDecisions
{
    /// <summary>
    /// Accepts the week as it is. What is open and hurts nobody is accepted open and listed in the event; while something could
    /// hurt somebody, nobody accepts the week.
    /// </summary>
    /// <param name="by">The id of the lead who records it.</param>
    /// <param name="photos">The ids of photographs of what is accepted; null for none.</param>
    public static OneOf<WeekHandedOver, Refusal> HandOver(
        this StoreWeek week, string by, Instant at, IReadOnlyList<string>? photos = null)
    {
        if (week.Published is null)
            return new Refusal("nothing-published", "No plan of this week is published yet, so there is nothing to hand over.");
        if (week.HandedOver is not null)
            return new Refusal("handed-over-already", "This week is handed over already. Withdraw that first, if it was wrong.");
        var state = HandOverState.Of(week);
        return state.Hindrances.Count > 0
            ? new Refusal("not-safe", "Somebody could be hurt. Put this right, or look at it, before anybody accepts the week.")
                { Because = state.Hindrances }
            : new WeekHandedOver($"hand-over-{week.HandOvers.Count + 1}", at, by,
                [.. state.OpenChecks.Select(open => new OpenCheck(open.Zone, open.Check))],
                [.. state.OpenSnags.Select(snag => snag.Number)], photos);
    }

    /// <param name="by">The id of the lead who withdraws it.</param>
    public static OneOf<HandOverWithdrawn, Refusal> WithdrawHandOver(this StoreWeek week, string by) =>
        week.HandedOver is { } accepted ? new HandOverWithdrawn(accepted.HandOver, by)
            : new Refusal("not-handed-over", "This week is not handed over, so there is nothing to withdraw.");

    /// <summary>The ids of the notes of an acceptance: who accepted, and what is to be known in the morning.</summary>
    public static (string Name, string Morning) NotesOf(string week, string handOver) =>
        ($"hand-over/{week}/{handOver}/name", $"hand-over/{week}/{handOver}/morning");
}
