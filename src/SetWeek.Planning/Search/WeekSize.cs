using SetWeek.Model.Problems;

namespace SetWeek.Planning.Search;

/// <summary>Decides which weeks are small enough for one exact model of the whole week.</summary>
internal static class WeekSize
{
    /// <summary>
    /// Most stints of a small week. Up to here one exact model may prove the whole week optimal. Larger weeks are bounded by
    /// relaxations and improved part by part.
    /// </summary>
    private const int MaxStintsOfSmallWeek = 70;

    /// <summary>True where one exact model of the whole week is worth its time.</summary>
    public static bool IsSmall(Problem problem) => problem.Stints.Count <= MaxStintsOfSmallWeek;
}
