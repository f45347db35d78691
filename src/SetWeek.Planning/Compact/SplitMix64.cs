namespace SetWeek.Planning.Compact;

/// <summary>Random numbers from a seed, the same on every machine and runtime (SplitMix64: Steele, Lea and Flood 2014).</summary>
internal sealed class SplitMix64(int seed)
{
    private ulong state = unchecked((ulong)seed * 0x9E3779B97F4A7C15UL + 0x632BE59BD9B4E019UL);

    public ulong Next()
    {
        unchecked
        {
            var mixed = state += 0x9E3779B97F4A7C15UL;
            mixed = (mixed ^ mixed >> 30) * 0xBF58476D1CE4E5B9UL;
            mixed = (mixed ^ mixed >> 27) * 0x94D049BB133111EBUL;
            return mixed ^ mixed >> 31;
        }
    }

    /// <summary>Uniform integer from 0 to count - 1.</summary>
    public int NextBelow(int count) => (int)((Next() >> 32) * (ulong)count >> 32);

    /// <summary>Uniform in [0, 1).</summary>
    public double NextDouble() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>True with the given probability.</summary>
    public bool NextBoolean(double probability) => NextDouble() < probability;

    /// <summary>Shuffles in place (Fisher and Yates).</summary>
    public void Shuffle<T>(Span<T> items)
    {
        for (var left = items.Length; left > 1; left--)
        {
            var pick = NextBelow(left);
            (items[left - 1], items[pick]) = (items[pick], items[left - 1]);
        }
    }
}
