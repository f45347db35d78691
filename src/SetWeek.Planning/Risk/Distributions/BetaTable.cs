using System.Collections.Concurrent;

namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// The beta quantile of one shape, looked up: nodes lie eight to each halving of the chance, from 1/2 down to 2^-33 on either
/// side, so that the steep ends are met as finely as the middle; between nodes a cubic keeps value and slope. It is off by less
/// than 2e-6 of the range (a test measures it).
/// </summary>
internal sealed class BetaTable
{
    private const int Octaves = 32, BitsInOctave = 3, Cells = Octaves << BitsInOctave, Kept = 1000;

    // The high bits of a double are its power of two and then its place within it: the number of the node below it.
    private const int Low = 52 - BitsInOctave;
    private static readonly long First = BitConverter.DoubleToInt64Bits(Math.ScaleB(1, -Octaves - 1)) >> Low;

    private static readonly ConcurrentDictionary<double, BetaTable> ByPeak = [];

    private readonly Half below, above;

    private BetaTable(double peak)
    {
        below = new Half(PertBeta.First(peak), PertBeta.Second(peak));
        above = new Half(PertBeta.Second(peak), PertBeta.First(peak));
    }

    /// <summary>
    /// Shapes recur in a week and between weeks, so that they are kept; a thousand are 8 MB, and more than enough.
    /// </summary>
    public static BetaTable Of(double peak)
    {
        if (ByPeak.Count > Kept) ByPeak.Clear();
        return ByPeak.GetOrAdd(peak, shape => new BetaTable(shape));
    }

    /// <param name="chance">Above 0 and below 1.</param>
    public double Share(double chance) => chance < 0.5 ? below.At(chance) : 1 - above.At(1 - chance);

    private sealed class Half
    {
        private readonly double[] values = new double[Cells + 2], slopes = new double[Cells + 2];

        public Half(double a, double b)
        {
            for (var node = 0; node <= Cells; node++)
            {
                var chance = BitConverter.Int64BitsToDouble(First + node << Low);
                values[node] = IncompleteBeta.Inverse(chance, a, b);
                slopes[node] = 1 / IncompleteBeta.Density(values[node], a, b);
            }
            (values[Cells + 1], slopes[Cells + 1]) = (values[Cells], slopes[Cells]);
        }

        public double At(double chance)
        {
            var bits = BitConverter.DoubleToInt64Bits(chance);
            var node = (int)((bits >> Low) - First);
            if (node < 0) return values[0];
            var width = Width(bits);
            var t = (bits & (1L << Low) - 1) * (1.0 / (1L << Low));
            var (from, to) = (values[node], values[node + 1]);
            var (s0, s1) = (slopes[node] * width, slopes[node + 1] * width);
            return from + t * (s0 + t * (3 * (to - from) - 2 * s0 - s1 + t * (2 * (from - to) + s0 + s1)));
        }

        /// <summary>Of the cell: an eighth of the power of two at or below the chance.</summary>
        private static double Width(long bits) => BitConverter.Int64BitsToDouble((bits >> 52) - BitsInOctave << 52);
    }
}
