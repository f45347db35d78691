namespace SetWeek.Domain.Weeks;

/// <summary>Where a task of a week comes from.</summary>
/// <param name="Direction">The direction of the week.</param>
/// <param name="Version">The version of the direction from which the task comes, or which the week had when it was added.</param>
/// <param name="Memo">The memo that asked for it; null if there is none.</param>
/// <param name="Author">The id of the person who added the task to this week; null if it comes from the direction.</param>
/// <param name="RevisedBy">The id of the person who changed it last in this week; null if nobody has.</param>
public sealed record TaskOrigin(
    string Direction, long Version, string? Memo = null, string? Author = null, string? RevisedBy = null);
