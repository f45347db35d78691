namespace SetWeek.Model.Durations;

/// <summary>Random numbers from a seed, the same on every machine and runtime (SplitMix64: Steele, Lea and Flood 2014).</summary>
/// <remarks>
/// The seed is mixed into the state. A state that grew by <see cref="Step"/> with the seed would make adjacent seeds the same
/// stream, shifted by one draw.
/// </remarks>
internal sealed class SplitMix64(int seed)
{
    /// <summary>2^64 divided by the golden ratio, made odd.</summary>
    public const ulong Step = 0x9E3779B97F4A7C15UL;

    private ulong state = Mix(unchecked((ulong)seed));

    /// <summary>The next 64 random bits.</summary>
    public ulong Next()
    {
        var mixed = Mix(state);
        state = unchecked(state + Step);
        return mixed;
    }

    /// <summary>Steps a state once and mixes its bits: the function of the generator without its memory.</summary>
    public static ulong Mix(ulong value)
    {
        unchecked
        {
            value += Step;
            value = (value ^ value >> 30) * 0xBF58476D1CE4E5B9UL;
            value = (value ^ value >> 27) * 0x94D049BB133111EBUL;
            return value ^ value >> 31;
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
