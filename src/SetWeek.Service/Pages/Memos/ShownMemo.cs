namespace SetWeek.Service.Pages.Memos;

/// <summary>A memo as the pages of a week show it.</summary>
/// <param name="Text">Null if it is erased.</param>
/// <param name="Sent">When, by the store's clock, as a sentence's part.</param>
/// <param name="Read">When it was read and by whom, as a sentence; null if it was not.</param>
/// <param name="IsWithdrawn">Whether head office has taken it back.</param>
public sealed record ShownMemo(string Id, string? Text, bool IsSafety, string Sent, string? Read, bool IsWithdrawn)
{
    public bool IsWaiting => Read is null && !IsWithdrawn;
}

/// <summary>The memos of a week that wait to be read, and how the reader records that.</summary>
/// <param name="Week">The id of the week.</param>
/// <param name="Token">The anti-forgery token; null if the reader may not record it, or came without a session.</param>
/// <param name="Then">The page to show next.</param>
public sealed record WaitingMemos(string Week, IReadOnlyList<ShownMemo> Memos, string? Token, string Then);
