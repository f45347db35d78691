using SetWeek.Model.Durations;

namespace SetWeek.Planning.Tests.Search;

public sealed class SplitMix64Tests
{
    /// <summary>
    /// The first outputs of the reference implementation for the state 1234567 (Vigna 2015, splitmix64.c; from memory).
    /// </summary>
    [Fact]
    public void The_generator_gives_the_numbers_of_the_reference_implementation()
    {
        ulong[] reference = [6457827717110365317, 3203168211198807973, 9817491932198370423];
        var state = 1234567UL;
        Assert.All(reference, expected =>
        {
            Assert.Equal(expected, SplitMix64.Mix(state));
            state = unchecked(state + SplitMix64.Step);
        });
    }

    /// <summary>Two searches with adjacent seeds must not repeat each other's draws.</summary>
    [Fact]
    public void Adjacent_seeds_share_no_draw()
    {
        var seen = new HashSet<ulong>();
        for (var seed = 0; seed < 20; seed++)
        {
            var random = new SplitMix64(seed);
            for (var draw = 0; draw < 1000; draw++) Assert.True(seen.Add(random.Next()), $"seed {seed}, draw {draw}");
        }
    }
}
