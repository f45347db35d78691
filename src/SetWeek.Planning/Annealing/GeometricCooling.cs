namespace SetWeek.Planning.Annealing;

/// <summary>Geometric cooling (Kirkpatrick and others 1983): equal times divide the temperature by equal factors.</summary>
internal static class GeometricCooling
{
    /// <param name="initial">Temperature at share 0.</param>
    /// <param name="final">Temperature at share 1; above 0.</param>
    /// <param name="share">Elapsed share of the time, 0 to 1.</param>
    public static double At(double initial, double final, double share) => initial * Math.Pow(final / initial, share);
}
