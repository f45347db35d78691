using System.Collections.Immutable;

namespace SetWeek.Domain.Weeks.Events.Snags;

/// <summary>The reports on the snags of a week. Their order of arrival does not matter.</summary>
/// <param name="Reports">Those that count.</param>
/// <param name="Numbers">
/// By the report that raised a snag: its number. Reports that are taken back are in it, so that no number is used twice.
/// </param>
public sealed record ReportedSnags(ImmutableList<ISnagReport> Reports, ImmutableDictionary<string, int> Numbers)
{
    public static ReportedSnags Empty { get; } = new([], ImmutableDictionary<string, int>.Empty);

    /// <summary>
    /// The number that a report gets which raises a snag: that of the snag which it corrects, or by which it was corrected before
    /// it arrived; otherwise the next one.
    /// </summary>
    /// <param name="corrects">By the report that raised a snag: the report that it corrects.</param>
    public int NumberFor(SnagRaised raised, Func<string, string?> corrects) => Numbers
        .Where(known => known.Key == raised.Corrects || corrects(known.Key) == raised.Report)
        .Select(known => (int?)known.Value).Min() ?? Numbers.Values.DefaultIfEmpty(0).Max() + 1;
}
