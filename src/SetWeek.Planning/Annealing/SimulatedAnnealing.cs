using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Ruin and recreate (Schrimpf and others 2000; Christiaens and Vanden Berghe 2020): some jobs are taken out and put back
/// where they cost least; a plan somewhat worse is gone on with while it is hot, none when it has cooled.
/// </summary>
internal sealed class SimulatedAnnealing(Image image, Placer placer, Roster roster, Recreation recreation, Score score, Chance chance)
{
    /// <summary>
    /// Most jobs that one ruin sets out to take: where little was taken, putting it back changes something oftener.
    /// </summary>
    private const int MostTaken = 4;

    /// <summary>
    /// Of the ruins while changes are bettered, the share that begins with what is otherwise than published, and with what is in
    /// the way of its going back.
    /// </summary>
    private const double TakingBack = 0.5;

    private readonly Ruin ruin = new(image, placer, chance);
    private readonly Draft current = new(image), trial = new(image);
    private readonly long[] trialValues = new long[score.Count];
    private readonly int[] order = new int[image.Jobs.Length];
    private readonly double[] keys = new double[image.Jobs.Length];
    private readonly Tariff tariff = Tariff.For(image.Problem);
    private double currentWeight;

    public Draft Best { get; } = new(image);
    public long[] BestValues { get; } = new long[score.Count];

    /// <summary>Is there a plan with nothing missing?</summary>
    public bool Found { get; private set; }

    public long Steps { get; private set; }

    /// <summary>Goes on from a plan.</summary>
    public void Begin(Draft draft)
    {
        current.CopyFrom(draft);
        score.Fill(draft, trialValues);
        currentWeight = score.Weigh(trialValues);
        if (!Found || trialValues.AsSpan().SequenceCompareTo(BestValues) < 0) Improve(draft);
    }

    /// <summary>The same, where it is better than the best so far.</summary>
    public bool TryBegin(Draft draft)
    {
        score.Fill(draft, trialValues);
        if (Found && trialValues.AsSpan().SequenceCompareTo(BestValues) >= 0) return false;
        Begin(draft);
        return true;
    }

    /// <summary>
    /// One ruin and recreate; heat is in hours of mean pay or, where a goal is named, in units of that; 0 takes no step back.
    /// True where a better plan was found.
    /// </summary>
    public bool Step(double heat, int goal = -1)
    {
        Steps++;
        trial.CopyFrom(current);
        var about = 1 + chance.Below(MostTaken);
        if (goal >= 0 && image.Problem.Goals[goal].Goal == "changes" && chance.Happens(TakingBack)) ruin.TakeBack(trial, about);
        else ruin.Take(trial, about);
        // Shifts shrink to the work that is left, so that time nobody is needed for is not taken as paid.
        if (!roster.Settle(trial)) return false;
        Charge();
        var wishes = chance.Happens(0.03) && Wish();
        var count = Order();
        if (!recreation.Fill(trial, order.AsSpan(0, count), wishes || chance.Happens(0.02), allOrNothing: true)
            || recreation.Missing > 0)
            return false;
        var unit = goal < 0 ? Math.Max(1, image.MeanRate) : score.WeightOf(goal);
        var most = currentWeight - heat * unit * Math.Log(Math.Max(1e-12, chance.Share()));
        if (score.FillWithin(trial, trialValues, most, BestValues) is not { } weight) return false;
        var better = trialValues.AsSpan().SequenceCompareTo(BestValues) < 0;
        current.CopyFrom(trial);
        currentWeight = weight;
        if (better) Improve(trial);
        return better;
    }

    /// <summary>
    /// The first goal before money that counts changes or the like and is not at its bound; -1: none.
    /// </summary>
    public int Foremost(long[] bounds)
    {
        var goals = image.Problem.Goals;
        for (var goal = 0; goal < goals.Count && goals[goal].Goal != "cost"; goal++)
            if (goals[goal].Goal is "changes" or "shifts" or "nights" or "moves" && BestValues[goal] > bounds[goal]) return goal;
        return -1;
    }

    /// <summary>Back to the best.</summary>
    public void Return()
    {
        current.CopyFrom(Best);
        currentWeight = score.Weigh(BestValues);
    }

    /// <summary>Asks for a display that is left out or replaced; another may have to go for it.</summary>
    private bool Wish()
    {
        var option = chance.Below(image.Options.Length);
        var (values, choice) = (image.Options[option].Values, image.Options[option].Choices[0]);
        if (values[choice] >= values[trial.Choice[option]]) return false;
        recreation.Switch(trial, option, choice);
        return true;
    }

    private void Improve(Draft draft)
    {
        Found = true;
        Best.CopyFrom(draft);
        score.Fill(draft, BestValues);
    }

    private void Charge()
    {
        placer.Preference = Preference.Cheapest;
        placer.Tariff = tariff with
        {
            Beyond = image.Drain is null ? 0 : tariff.Beyond * chance.Share(),
            Effort = chance.Share() * 0.6,
            Spare = chance.Below(2) * chance.Share(),
            Delay = chance.Below(3) switch { 0 => tariff.Delay * 4, 1 => tariff.Delay, _ => 0 },
            Noise = chance.Below(3) switch { 0 => 0, 1 => 0.03, _ => 0.15 },
        };
    }

    /// <summary>What was taken and what is missing, in one of several orders.</summary>
    private int Order()
    {
        var (count, rule) = (0, chance.Below(4));
        for (var job = 0; job < image.Stints; job++)
        {
            if (trial.Night[job] >= 0 || image.Jobs[job].Final) continue;
            var what = image.Jobs[job];
            order[count] = job;
            keys[count++] = rule switch
            {
                0 => what.Latest * (1 + 0.05 * chance.Share()),
                1 => what.Manners.Length == 0 ? 0 : -what.Manners[0].Slots * what.Manners[0].Seats.Length * (1 + chance.Share()),
                2 => what.Rank,
                _ => chance.Share(),
            };
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }
}
