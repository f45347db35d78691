using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Repairs the published plan: what a fact disturbs is missing at first, and what is in its way is taken out and put back, with
/// as few changes as can be. In rounds that cool, each from what is kept of the published plan or from the best repair so far.
/// What is shown stays what was published, unless there is no room for it.
/// </summary>
internal sealed class Mending(Image image, Placer placer, Roster roster, Recreation recreation, Score score, Chance chance)
{
    /// <summary>In changes: how much worse a draft may be and still be gone on with, about, at a round's beginning and end.</summary>
    private const double Hottest = 1.5, Coldest = 0.15;

    /// <summary>
    /// In changes: what a slot of somebody's work missing counts at first and at most (more with every step, so that at last a
    /// plan is found, if with more changes), and what a stint at another time or with other people counts. A point of what is
    /// left out counts one.
    /// </summary>
    private const double Missing = 0.15, MissingMost = 1.5, Urgency = 1.01, Stirred = 0.03;

    /// <summary>While there is no plan, changes count less in every other round: any plan is better than none.</summary>
    private const double Careless = 0.15;

    /// <summary>Share of the tries, while something is missing, in which a want without room may be left out; and after a while.</summary>
    private const double LeavingOut = 0.1, LeavingOutLater = 0.4;

    /// <summary>
    /// Share of the tries in which somebody is taken off a night. Published shifts stay by themselves, idle ones too, and so may
    /// keep the only ones who can do something from the night in which it has to be done now.
    /// </summary>
    private const double TakingOff = 0.1;

    /// <summary>Steps in a round.</summary>
    private const int Round = 300;

    private readonly Ruin ruin = new(image, placer, chance);
    private readonly Draft most = new(image), less = new(image), shifts = new(image), current = new(image), trial = new(image);
    private readonly int[] order = new int[image.Jobs.Length];
    private readonly double[] keys = new double[image.Jobs.Length];
    private readonly Tariff tariff = Tariff.For(image.Problem);
    /// <summary>Published shifts that need not stay, by person and night: of the draft gone on with, and of the best.</summary>
    private readonly bool[] released = new bool[image.People * image.Nights], bestReleased = new bool[image.People * image.Nights];
    private List<int> missing = [];
    private double currentWeight, bestWeight = double.MaxValue, perMissing = Missing, care = 1;
    private int steps, missingWork;

    /// <summary>The best whole plan so far, after a <see cref="Step"/> that found one.</summary>
    public Draft Best { get; } = new(image);

    public bool IsFound => bestWeight < double.MaxValue;

    /// <summary>Begins with what can be kept of the published plan, or with less, which leaves more room; the rest is missing.</summary>
    public void Begin(Draft kept, Draft keptLess)
    {
        most.CopyFrom(kept);
        less.CopyFrom(keptLess);
        ruin.TakeUnclean(most);
        ruin.TakeUnclean(less);
        shifts.CopyFrom(kept);
        for (var job = 0; job < image.Jobs.Length; job++)
            if (shifts.Night[job] >= 0 && !image.Jobs[job].Fixed) shifts.Lift(job);
        GoOn(most);
    }

    /// <summary>Another's plan, to go on from where it is better.</summary>
    public void Learn(Draft plan)
    {
        care = 1;
        if (Weigh(plan, 0) is var weight && weight >= bestWeight) return;
        Best.CopyFrom(plan);
        bestWeight = weight;
        Array.Clear(bestReleased);
    }

    /// <summary>One try; true where it found a better whole plan.</summary>
    public bool Step()
    {
        if (++steps % Round == 0) NextRound();
        if (missing.Count > 0)
        {
            perMissing = perMissing < MissingMost ? perMissing * Urgency : Missing;
            currentWeight = Weigh(current, missingWork);
        }
        trial.CopyFrom(current);
        released.CopyTo(image.Publication.Released, 0);
        var taken = TryOne();
        if (taken) image.Publication.Released.CopyTo(released, 0);
        Array.Clear(image.Publication.Released);
        if (!taken || missing.Count > 0) return false;
        care = 1;
        GoOn(trial);
        if (currentWeight >= bestWeight) return false;
        Best.CopyFrom(current);
        bestWeight = currentWeight;
        released.CopyTo(bestReleased, 0);
        return true;
    }

    private bool TryOne()
    {
        Take();
        if (!roster.Settle(trial)) return false;
        placer.Preference = Preference.Cheapest;
        placer.Tariff = tariff with
        {
            Pay = 0.3 * chance.Share(), Effort = chance.Share(), Spare = 2 * chance.Share(),
            Noise = chance.Below(3) switch { 0 => 0, 1 => 0.05, _ => 0.3 },
        };
        var mayLeaveOut = missing.Count > 0 && chance.Happens(steps > Round && !IsFound ? LeavingOutLater : LeavingOut);
        if (!recreation.Fill(trial, order.AsSpan(0, Order()), mayLeaveOut)) return false;
        var weight = Weigh(trial, recreation.MissingWork);
        var heat = Hottest * Math.Pow(Coldest / Hottest, steps % Round / (double)Round);
        if (weight > currentWeight - heat * Math.Log(Math.Max(1e-9, chance.Share()))) return false;
        GoOn(trial);
        return true;
    }

    private void NextRound()
    {
        perMissing = Missing;
        care = IsFound || (steps / Round & 1) == 0 ? 1 : Careless;
        var again = IsFound && chance.Happens(0.5);
        trial.CopyFrom(again ? Best : Base());
        if (again) bestReleased.CopyTo(released, 0);
        else Array.Clear(released);
        if (!IsFound && steps > 2 * Round) GiveWay(trial);
        GoOn(trial);
    }

    /// <summary>Most of what was published, less of it, the shifts alone: each leaves more room, and more to put back.</summary>
    private Draft Base() => (steps / Round / 2 % 3) switch { 0 => most, 1 => less, _ => shifts };

    /// <summary>Some display, whichever, takes its next choice: the room that it leaves may be what is wanting.</summary>
    private void GiveWay(Draft draft)
    {
        var at = chance.Below(image.Options.Length);
        for (var step = 0; step < image.Options.Length; step++, at = (at + 1) % image.Options.Length)
        {
            var choices = image.Options[at].Choices;
            var next = Array.IndexOf(choices, draft.Choice[at]) + 1;
            if (next >= choices.Length) continue;
            recreation.Switch(draft, at, choices[next]);
            return;
        }
    }

    private void Take()
    {
        if (chance.Happens(TakingOff)) ruin.TakeOff(trial);
        else if (missing.Count > 0 && chance.Happens(0.75))
            // What comes first is asked for more often: the rest waits for it.
            ruin.MakeRoom(trial, missing[Math.Min(chance.Below(missing.Count), chance.Below(missing.Count))], chance.Happens(0.6));
        else if (chance.Happens(0.7)) ruin.TakeBack(trial, 1 + chance.Below(4));
        else ruin.Take(trial, 1 + chance.Below(9));
    }

    private void GoOn(Draft draft)
    {
        current.CopyFrom(draft);
        missing = recreation.MissingIn(current);
        missingWork = missing.Sum(recreation.WorkOf);
        currentWeight = Weigh(current, missingWork);
    }

    private double Weigh(Draft draft, int lacking) =>
        perMissing * lacking + score.LeftOut(draft) + care * score.Changes(draft) + Stirred * image.Publication.Stirred(draft);

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
                0 => what.Latest + 300 * chance.Share(),
                1 => (current.Night[job] < 0 ? 0 : 1) + 0.5 * chance.Share(),
                2 => what.Rank,
                _ => chance.Share() - recreation.WorkOf(job) / 30.0,
            };
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }
}
