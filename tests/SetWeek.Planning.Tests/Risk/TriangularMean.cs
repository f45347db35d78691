using SetWeek.Model.Durations;


namespace SetWeek.Planning.Tests.Risk;

/// <summary>The mean of a triangular distribution, (a + m + b) / 3: the simulation needs no mean, its tests do.</summary>
internal static class TriangularMean
{
    public static double Of(ThreePointEstimate estimate) =>
        (estimate.Optimistic + estimate.MostLikely + estimate.Pessimistic) / 3;
}
