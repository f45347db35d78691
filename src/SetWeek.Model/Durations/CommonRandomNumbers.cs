namespace SetWeek.Model.Durations;

/// <summary>
/// Common random numbers: the number that a task draws in a run is a function of seed, task and run alone. It is computed by the
/// mixing function of <see cref="SplitMix64"/>. Threads and their order therefore do not matter. A task of a
/// changed week draws the same numbers again, so two plans are compared run by run.
/// </summary>
internal readonly struct CommonRandomNumbers(int seed, string task)
{
    private readonly ulong stream = SplitMix64.Mix(SplitMix64.Mix((ulong)(uint)seed) ^ HashOf(task));

    /// <summary>Uniform above 0 and below 1, in steps of 2^-32.</summary>
    public double Uniform(int run)
    {
        var mixed = SplitMix64.Mix(unchecked(stream + (ulong)(uint)run * SplitMix64.Step));
        return ((uint)(mixed >> 32) + 0.5) * (1.0 / (1L << 32));
    }

    /// <summary>The FNV-1a hash, because string.GetHashCode differs between processes.</summary>
    private static ulong HashOf(string text)
    {
        var hash = 0xCBF29CE484222325UL;
        foreach (var letter in text) hash = unchecked((hash ^ letter) * 0x100000001B3UL);
        return hash;
    }
}
