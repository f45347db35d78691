using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>What would help a chain of tasks that is left half-secured too often. All new plans have the same effort.</summary>
/// <param name="Task">The id of the task that is done.</param>
/// <param name="Next">The id of the task that has to follow it in the same night.</param>
/// <param name="TargetPercent">The chance, in percent, with which nothing should be left half-secured.</param>
/// <param name="Replanned">What a new plan of the week as it is reaches.</param>
/// <param name="Best">
/// The move whose new plan leaves nothing half-secured most often; null if none does so more often than
/// <paramref name="Replanned"/>, or if that reaches the target.
/// </param>
/// <param name="Others">The other moves that were tried.</param>
public sealed record SecuringAdvice(string Task, string Next, int TargetPercent, ReplannedWeek Replanned, SecuringMove? Best,
    IReadOnlyList<SecuringMove> Others);

/// <summary>A move that was tried for a chain of tasks.</summary>
/// <param name="Sentence">The move in words.</param>
/// <param name="Changes">Changes to the week; they can be given to a what-if.</param>
/// <param name="Pins">Pins to add to the week.</param>
/// <param name="Reached">What a new plan with the move reaches; null if none was found.</param>
public sealed record SecuringMove(
    string Sentence, IReadOnlyList<WeekChange> Changes, IReadOnlyList<StintPin> Pins, ReplannedWeek? Reached);
