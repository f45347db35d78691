using SetWeek.Model.Time;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// The goals' values of a draft, counted from its arrays (the goals themselves measure finished plans; tests hold both
/// together), and one number that weighs them in their order for a search that may also step back.
/// </summary>
internal sealed class Score
{
    private const double Heavy = 1e6;

    /// <summary>In hours of mean pay: a piece of published work at another time, or with other people.</summary>
    private const double StirredHours = 0.01;

    private readonly Image image;
    private readonly Func<Draft, long>[] measures;
    private readonly double[] weights;
    private readonly long reserveFree;
    private readonly int[] work;

    public Score(Image image)
    {
        this.image = image;
        var goals = image.Problem.Goals;
        measures = [.. goals.Select(choice => Measure(choice.Goal))];
        weights = Weights([.. goals.Select(choice => choice.Goal)]);
        // Of plans as good, the one that leaves more of what was published where it is: no goal, and never before one.
        if (image.Problem.Facts is not null)
            (measures, weights) = ([.. measures, draft => image.Publication.Stirred(draft)],
                [.. weights, Math.Max(1, image.MeanRate) * StirredHours]);
        work = new int[image.Jobs.Length];
        var last = image.Nights - 1;
        reserveFree = (image.Problem.Rules.ReservePercent ?? 60) * image.Problem.Crew.Sum(person =>
            (long)Math.Min(Minutes(person.Available[last], image.Problem.Nights[last].Span), person.MaxMinutesPerNight));
    }

    /// <summary>Minutes of a night that some entry covers; where entries overlap, once.</summary>
    private static int Minutes(IReadOnlyList<Span> entries, Span night) =>
        Enumerable.Range(night.From, night.Minutes)
            .Count(minute => entries.Any(entry => entry.From <= minute && minute < entry.To));

    public int Count => measures.Length;

    public void Fill(Draft draft, long[] values)
    {
        for (var goal = 0; goal < measures.Length; goal++) values[goal] = measures[goal](draft);
    }

    /// <summary>
    /// The same and what they weigh together; null, as soon as it is known, where that is above a limit and the values are not
    /// better, in order, than some others.
    /// </summary>
    public double? FillWithin(Draft draft, long[] values, double limit, long[] others)
    {
        var (sum, order) = (0.0, 0);
        for (var goal = 0; goal < measures.Length; goal++)
        {
            values[goal] = measures[goal](draft);
            sum += weights[goal] * values[goal];
            if (order == 0) order = values[goal].CompareTo(others[goal]);
            if (sum > limit && order >= 0) return null;
        }
        return sum;
    }

    /// <summary>What one of a goal weighs.</summary>
    public double WeightOf(int goal) => weights[goal];

    public double Weigh(ReadOnlySpan<long> values)
    {
        var sum = 0.0;
        for (var goal = 0; goal < values.Length; goal++) sum += weights[goal] * values[goal];
        return sum;
    }

    /// <summary>
    /// Goals that come before money weigh so much that money does not buy them; those after it hardly anything.
    /// </summary>
    private double[] Weights(string[] goals)
    {
        var cost = Array.IndexOf(goals, "cost");
        var hour = Math.Max(1, image.MeanRate);
        var place = cost < 0 ? 0 : cost;
        return [.. goals.Select((goal, at) =>
            Unit(goal, hour) * (at < place ? Heavy * Math.Pow(100, place - at - 1) : Math.Pow(0.05, at - place)))];
    }

    private double Unit(string goal, double hour) => goal switch
    {
        "nights" when image.Drain is not null => hour / 60,
        "cost" => 1,
        "finish" => hour / 600,
        "reserve" => hour / 60,
        "uneven" => hour / 600,
        "moves" => hour / 6,
        _ => hour,
    };

    private Func<Draft, long> Measure(string goal) => goal switch
    {
        "leftOut" => LeftOut,
        "reserve" => Reserve,
        "cost" => Cost,
        "finish" => Finish,
        "nights" => image.Drain is { } drain ? draft => drain.Of(image, draft) : LastNight,
        "shifts" => draft => draft.ShiftCount.Sum(),
        "moves" => Moves,
        "uneven" => Uneven,
        "changes" => Changes,
        _ => throw new ArgumentOutOfRangeException(nameof(goal), goal, "No such goal."),
    };

    /// <summary>What the goal of that name counts, asked or not.</summary>
    public long LeftOut(Draft draft)
    {
        var sum = 0L;
        for (var option = 0; option < image.Options.Length; option++) sum += image.Options[option].Values[draft.Choice[option]];
        return sum;
    }

    private long Reserve(Draft draft)
    {
        var worked = 0L;
        for (var job = 0; job < draft.Night.Length; job++)
            if (draft.Night[job] == image.Nights - 1) worked += (draft.To[job] - draft.From[job]) * draft.HandCount[job];
        return Math.Max(0, (worked * 100 - reserveFree + 99) / 100);
    }

    private long Cost(Draft draft)
    {
        var (after, percent) = (image.Problem.Rules.OvertimeAfterMinutes, image.Problem.Rules.OvertimePercent ?? 100);
        var sum = 0L;
        for (var person = 0; person < image.People; person++)
        {
            var (paid, already) = ((long)draft.Paid[person], image.Problem.Crew[person].MinutesAlready);
            var over = after is { } mark ? Math.Max(0, already + paid - Math.Max(mark, already)) : 0;
            sum += image.Rates[person] * (paid * 100 + over * (percent - 100));
        }
        return (sum + 5999) / 6000;
    }

    private long Finish(Draft draft)
    {
        var last = 0;
        for (var job = 0; job < draft.Night.Length; job++) if (draft.Night[job] >= 0) last = Math.Max(last, draft.To[job]);
        return last;
    }

    private long LastNight(Draft draft)
    {
        for (var night = image.Nights - 1; night >= 0; night--) if (draft.Night.Contains(night)) return night + 1;
        return 0;
    }

    private long Moves(Draft draft)
    {
        var count = 0;
        for (var job = 0; job < draft.Night.Length; job++)
            if (draft.Night[job] >= 0 && draft.HandCount[job] > 0) work[count++] = job;
        var order = work.AsSpan(0, count);
        order.Sort((one, other) => draft.From[one] != draft.From[other] ? draft.From[one] - draft.From[other] : one - other);
        Span<int> night = stackalloc int[image.People], zone = stackalloc int[image.People];
        night.Fill(-1);
        var moves = 0L;
        foreach (var job in order)
            foreach (var person in draft.HandsOf(job))
            {
                if (night[person] == draft.Night[job] && zone[person] != image.Jobs[job].Zone) moves++;
                (night[person], zone[person]) = (draft.Night[job], image.Jobs[job].Zone);
            }
        return moves;
    }

    private long Uneven(Draft draft)
    {
        var (most, least) = (long.MinValue, long.MaxValue);
        foreach (var person in image.Problem.Crew)
        {
            if (person.Available.All(spans => spans.Count == 0)) continue;
            (most, least) = (Math.Max(most, draft.Paid[person.Index]), Math.Min(least, draft.Paid[person.Index]));
        }
        return most < least ? 0 : most - least;
    }

    /// <summary>The same of changes.</summary>
    public long Changes(Draft draft)
    {
        if (image.Problem.Facts is null) return 0;
        var sum = 0L;
        for (var at = 0; at < draft.ShiftFrom.Length; at++) sum += image.Publication.ShiftChange(draft, at);
        for (var job = 0; job < image.Stints; job++)
            if (draft.Night[job] >= 0 && image.Publication.Night(job) is >= 0 and var night && night != draft.Night[job]) sum++;
        return sum;
    }
}
