using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Whole plans from nothing: by what must be done soonest, then by other orders and by chance, until one holds.
/// </summary>
internal sealed class FirstPlans(Image image, Placer placer, Recreation recreation, Chance chance)
{
    private readonly int[] order = new int[image.Stints];
    private readonly double[] keys = new double[image.Stints];
    private readonly bool[] musts = [.. image.Jobs.Take(image.Stints).Select(job => Must(image, job.Display))];
    private readonly Tariff tariff = Tariff.For(image.Problem);

    /// <summary>Builds the plan of one attempt into a draft; true where nothing is missing and the roster is settled.</summary>
    public bool Build(Draft draft, Draft beginning, int attempt)
    {
        draft.CopyFrom(beginning);
        Array.Clear(placer.KeptOff);
        var noise = attempt < 6 ? 0 : Math.Min(0.5, 0.05 * (attempt - 4));
        for (var job = 0; job < image.Stints; job++) 
        {
            var later = attempt > 0 && !musts[job] ? Problem.Never : 0;
            (order[job], keys[job]) = (job, Key(image.Jobs[job], attempt % 3) * (1 + noise * (chance.Share() - 0.5)) + later);
        }
        keys.AsSpan().Sort(order.AsSpan());
        placer.Preference = attempt % 2 == 0 ? Preference.Earliest : Preference.Cheapest;
        placer.Tariff = tariff with { Noise = noise / 4, Spare = attempt % 4 < 2 ? 2 : 0.5, Change = 0, Stir = 0 };
        return recreation.Fill(draft, order, mayChoose: true) && recreation.Missing == 0;
    }

    /// <summary>
    /// Places what a draft lacks where it disturbs least; true where nothing is missing and the roster is settled.
    /// </summary>
    public bool Complete(Draft draft)
    {
        for (var job = 0; job < image.Stints; job++) (order[job], keys[job]) = (job, Key(image.Jobs[job], 0));
        keys.AsSpan().Sort(order.AsSpan());
        placer.Preference = Preference.Cheapest;
        placer.Tariff = tariff;
        // What comes after all else would leave no room after it.
        foreach (var final in image.Finals) if (draft.Night[final] >= 0) draft.Lift(final);
        for (var zone = 0; zone < image.Zones; zone++)
            for (var night = 0; night < image.Nights; night++) placer.CleanDownAfter(draft, zone, night);
        return recreation.Fill(draft, order, mayChoose: true) && recreation.Missing == 0;
    }

    /// <summary>
    /// The first attempt takes all as it comes; the others see to what may not be left out, and to what may stand for it, before
    /// the rest: to musts, and in a re-plan to wants that have begun.
    /// </summary>
    private static bool Must(Image image, int display) =>
        !image.Options.First(option => option.Display == display || option.Alternate == display)
            .Choices.Contains(DisplayOption.LeftOut);

    private double Key(Job job, int rule) => rule switch
    {
        0 => job.Latest,
        1 => job.Latest - 2.0 * Scarcity(job),
        _ => job.Rank,
    };

    /// <summary>Minutes that few can give count more.</summary>
    private double Scarcity(Job job) => job.Manners.Length == 0 ? 0
        : job.Manners[0].Seats.Sum(seat =>
            job.Manners[0].Minutes * (double)image.People / Math.Max(1, (int)ulong.PopCount(seat.Eligible)));
}
