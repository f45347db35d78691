using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Finds room for all that is wanted, whatever it costs: ruins what is in the way of a missing stint and puts all back.
/// </summary>
internal sealed class Fitting(Image image, Placer placer, Roster roster, Recreation recreation, Chance chance)
{
    private readonly Ruin ruin = new(image, placer, chance);
    private readonly Draft current = new(image), trial = new(image);
    private readonly int[] order = new int[image.Jobs.Length];
    private readonly double[] keys = new double[image.Jobs.Length];
    private readonly Tariff tariff = Tariff.For(image.Problem);
    private int currentMissing;
    private List<int> missing = [];

    public Draft Current => current;

    public void Begin(Draft draft)
    {
        current.CopyFrom(draft);
        missing = recreation.MissingIn(current);
        currentMissing = WorkOf(missing);
    }

    public bool Done => missing.Count == 0;

    /// <summary>One try; true where nothing is missing any more: then <see cref="Current"/> is a plan.</summary>
    public bool Step()
    {
        trial.CopyFrom(current);
        // What comes first is asked for more often: the rest waits for it.
        var lacking = missing[Math.Min(chance.Below(missing.Count), chance.Below(missing.Count))];
        if (chance.Happens(0.7)) ruin.MakeRoom(trial, lacking);
        else ruin.Take(trial, 3 + chance.Below(12));
        if (!roster.Settle(trial)) return false;
        placer.Preference = chance.Happens(0.3) ? Preference.Earliest : Preference.Cheapest;
        placer.Tariff = tariff with
        {
            Pay = 0.3 * chance.Share(), Effort = chance.Share(), Spare = 3 * chance.Share(), Noise = 0.3 * chance.Share(),
            Change = image.Publication.AllReleased ? 0 : tariff.Change, Stir = image.Publication.AllReleased ? 0 : tariff.Stir,
        };
        if (!recreation.Fill(trial, order.AsSpan(0, Order()), mayChoose: false)) return false;
        if (recreation.MissingWork > currentMissing - 4 * Math.Log(Math.Max(1e-9, chance.Share()))) return false;
        current.CopyFrom(trial);
        currentMissing = recreation.MissingWork;
        missing = recreation.MissingIn(current);
        return missing.Count == 0;
    }

    private int WorkOf(List<int> stints) =>
        stints.Sum(job => image.Jobs[job].Manners is [var manner, ..] ? manner.Slots * Math.Max(1, manner.Seats.Length) : 1);

    private int Order()
    {
        var (count, rule) = (0, chance.Below(3));
        for (var job = 0; job < image.Stints; job++)
        {
            if (trial.Night[job] >= 0 || image.Jobs[job].Final) continue;
            var what = image.Jobs[job];
            order[count] = job;
            keys[count++] = rule switch
            {
                0 => what.Latest + 300 * chance.Share(),
                1 => (current.Night[job] < 0 ? 0 : 1) + 0.5 * chance.Share(),
                _ => chance.Share() - (what.Manners is [var manner, ..] ? manner.Slots * manner.Seats.Length / 30.0 : 0),
            };
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }
}
