using System.Numerics;
using SetWeek.Model.Goals;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Scenarios;

/// <summary>
/// Estimates how many scenarios a partial schedule holds in: those in which every night stands as it is
/// (<see cref="NightScenarios"/>). Nights are remembered by their content, because a step of local search changes few of them.
/// </summary>
internal sealed class HoldEstimate
{
    /// <summary>Nights remembered: 4,096 take 160 kB with 256 scenarios.</summary>
    private const int Remembered = 4096;

    private readonly CompactProblem compact;
    private readonly HoldTarget hold;
    private readonly DurationScenarios durations;
    private readonly NightScenarios nights;
    private readonly ulong[] keys = new ulong[Remembered], remembered;
    private readonly ulong[] joint;
    private readonly int words;

    private HoldEstimate(CompactProblem compact, DurationScenarios durations)
    {
        (this.compact, this.durations, hold) = (compact, durations, compact.Problem.Week.Hold);
        nights = new NightScenarios(compact, durations);
        words = durations.Lanes / 64;
        (remembered, joint) = (new ulong[Remembered * words], new ulong[words]);
    }

    /// <summary>The estimate for a problem; null if the goal hold is not asked for, or no duration is uncertain.</summary>
    public static HoldEstimate? For(CompactProblem compact)
    {
        if (!HoldGoal.IsAtStake(compact.Problem)) return null;
        var durations = new DurationScenarios(compact);
        return durations.AnyUncertain ? new HoldEstimate(compact, durations) : null;
    }

    /// <summary>
    /// Scenarios that a plan holds in, less those estimated. The whole simulation lets work be done in a later night, so it
    /// is mostly above 0. It is measured on the best plan, and plans near it differ by about as much.
    /// </summary>
    public int Correction { get; set; }

    /// <summary>Scenarios that the schedule evaluated last is estimated to hold in, without the correction.</summary>
    public int Held { get; private set; }

    /// <summary>Nights evaluated so far, those remembered excepted: the measure of effort.</summary>
    public long NightsEvaluated { get; private set; }

    /// <summary>
    /// Evaluates a complete schedule. Returns the goal's estimated value, and how far the logarithm of the chance falls short of
    /// the target's: 0 if it does not.
    /// </summary>
    public (long Value, double LogShortfall) Of(PartialSchedule schedule)
    {
        Array.Fill(joint, ulong.MaxValue);
        // The product of the nights' own chances keeps a slope where no scenario is held in every night.
        var product = 1.0;
        for (var night = 0; night < compact.Nights; night++)
        {
            if (compact.Problem.Nights[night].Closes <= compact.Now) continue;
            var bits = BitsOf(schedule, night);
            var own = 0;
            for (var word = 0; word < words; word++)
            {
                own += BitOperations.PopCount(bits[word]);
                joint[word] &= bits[word];
            }
            product *= (own + 0.5) / (durations.Count + 0.5);
        }
        Held = 0;
        for (var word = 0; word < words; word++) Held += BitOperations.PopCount(joint[word] & MaskOf(word));
        var held = Math.Clamp(Held + Correction, 0, durations.Count);
        var chance = held > 0 ? (double)held / durations.Count : Math.Min(product, 1.0 / durations.Count);
        var value = HoldGoal.Shortfall(hold, held);
        return (value, value == 0 ? 0 : Math.Max(0, Math.Log(hold.Chance / 100.0 / chance)));
    }

    private ReadOnlySpan<ulong> BitsOf(PartialSchedule schedule, int night)
    {
        var key = nights.Prepare(schedule, night);
        var place = (int)(key % Remembered);
        var bits = remembered.AsSpan(place * words, words);
        if (keys[place] == key) return bits;
        keys[place] = key;
        nights.Evaluate(schedule, night, bits);
        NightsEvaluated++;
        return bits;
    }

    private ulong MaskOf(int word) =>
        durations.Count - 64 * word >= 64 ? ulong.MaxValue : (1UL << durations.Count - 64 * word) - 1;
}
