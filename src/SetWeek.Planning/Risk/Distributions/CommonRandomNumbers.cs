namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// The share of chance that a run draws for a task: worked out from seed, task and run alone (the mixing function of SplitMix64:
/// Steele, Lea and Flood 2014). So it is the same whatever the threads do and in whatever order, and the same task of a changed
/// week draws the same again: two plans are compared in the same luck.
/// </summary>
internal readonly struct CommonRandomNumbers(int seed, string task)
{
    private readonly ulong stream = Mix(Mix((ulong)(uint)seed) ^ HashOf(task));

    /// <summary>Above 0 and below 1, in steps of 2^-32.</summary>
    public double Uniform(int run)
    {
        var mixed = Mix(unchecked(stream + (ulong)(uint)run * 0x9E3779B97F4A7C15UL));
        return ((uint)(mixed >> 32) + 0.5) * (1.0 / (1L << 32));
    }

    private static ulong Mix(ulong value)
    {
        unchecked
        {
            value += 0x9E3779B97F4A7C15UL;
            value = (value ^ value >> 30) * 0xBF58476D1CE4E5B9UL;
            value = (value ^ value >> 27) * 0x94D049BB133111EBUL;
            return value ^ value >> 31;
        }
    }

    /// <summary>FNV-1a: string.GetHashCode differs from process to process.</summary>
    private static ulong HashOf(string text)
    {
        var hash = 0xCBF29CE484222325UL;
        foreach (var letter in text) hash = unchecked((hash ^ letter) * 0x100000001B3UL);
        return hash;
    }
}
