namespace SetWeek.Service.Webhooks;

/// <summary>How deliveries are tried.</summary>
/// <param name="Waits">The time between one attempt and the next. After the last of them the delivery is a dead letter.</param>
public sealed record WebhookOptions(IReadOnlyList<TimeSpan> Waits)
{
    /// <summary>How long a target may take to answer. The Standard Webhooks specification recommends 15 to 30 s.</summary>
    public TimeSpan AnswerTime { get; init; } = TimeSpan.FromSeconds(15);

    /// <summary>The time until the next attempt; null if there is none.</summary>
    /// <param name="attempts">How often it was tried, at least once.</param>
    /// <param name="key">What is delivered. It spreads the waits of deliveries that fail together by up to a tenth.</param>
    public TimeSpan? WaitAfter(int attempts, string key)
    {
        if (attempts > Waits.Count) return null;
        var spread = key.Aggregate(17u, (hash, character) => unchecked(hash * 31 + character)) % 1000 / 10_000.0;
        return Waits[attempts - 1] * (1 + spread);
    }
}
