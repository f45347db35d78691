namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// Common random numbers: the number that a task draws in a run is a function of seed, task and run alone. It is computed by the
/// mixing function of SplitMix64 (Steele, Lea and Flood 2014). Threads and their order therefore do not matter. A task of a
/// changed week draws the same numbers again, so two plans are compared run by run.
/// </summary>
internal readonly struct CommonRandomNumbers(int seed, string task)
{
    private readonly ulong stream = Mix(Mix((ulong)(uint)seed) ^ HashOf(task));

    /// <summary>Uniform above 0 and below 1, in steps of 2^-32.</summary>
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

    /// <summary>The FNV-1a hash, because string.GetHashCode differs between processes.</summary>
    private static ulong HashOf(string text)
    {
        var hash = 0xCBF29CE484222325UL;
        foreach (var letter in text) hash = unchecked((hash ^ letter) * 0x100000001B3UL);
        return hash;
    }
}
