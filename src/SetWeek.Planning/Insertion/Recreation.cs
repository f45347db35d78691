using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Puts jobs into a draft in an order, what comes before another first; then the final task, then the roster. What does not
/// fit gives its display's next choice: the alternate, or, for a want, none.
/// </summary>
internal sealed class Recreation(Image image, Placer placer, Roster roster)
{
    private readonly bool[] wanted = new bool[image.Jobs.Length];
    private readonly bool[] visiting = new bool[image.Jobs.Length];
    private readonly List<int> failed = [];

    /// <summary>Stints that should be there and are not, after the last <see cref="Fill"/>.</summary>
    public int Missing { get; private set; }

    /// <summary>The same, in slots times people (one at the least).</summary>
    public int MissingWork { get; private set; }

    /// <summary>Places the stints of an order; false where the roster cannot be settled.</summary>
    public bool Fill(Draft draft, ReadOnlySpan<int> order, bool mayChoose, bool allOrNothing = false)
    {
        failed.Clear();
        Array.Clear(wanted);
        Array.Clear(visiting);
        for (var option = 0; option < image.Options.Length; option++) Want(draft, option, want: true);
        foreach (var job in order)
        {
            Place(draft, job);
            if (failed.Count > 0 && allOrNothing && !mayChoose) break;
        }
        if (mayChoose) ChooseOthers(draft);
        var clean = CleanedDown(draft);
        foreach (var job in image.Finals)
            if (wanted[job] && draft.Night[job] < 0
                && (failed.Count > 0 && allOrNothing || !placer.Place(draft, job, -1)))
                failed.Add(job);
        CountMissing(draft);
        return (Missing == 0 || !allOrNothing) && clean && roster.Settle(draft);
    }

    /// <summary>
    /// A clean-down that found no place again when work in its zone was taken out, or that was published for work which lies
    /// elsewhere now, is put right here: no stint that is missing would tell of it.
    /// </summary>
    private bool CleanedDown(Draft draft)
    {
        for (var at = 0; at < draft.Soiled.Length; at++)
            if ((draft.Soiled[at] > 0) != (draft.Night[image.Stints + at] >= 0)
                && !placer.CleanDownAfter(draft, at / image.Nights, at % image.Nights))
                return false;
        return true;
    }

    private void CountMissing(Draft draft)
    {
        (Missing, MissingWork) = (0, 0);
        for (var job = 0; job < image.Stints; job++)
        {
            if (!wanted[job] || draft.Night[job] >= 0) continue;
            Missing++;
            MissingWork += WorkOf(job);
        }
    }

    /// <summary>Slots times people (one at the least) that a job takes in its first way.</summary>
    public int WorkOf(int job) => image.Jobs[job].Manners is [var manner, ..] ? manner.Slots * Math.Max(1, manner.Seats.Length) : 1;

    /// <summary>Stints that a draft's choices ask for and that are not in it, what comes first first.</summary>
    public List<int> MissingIn(Draft draft)
    {
        var missing = new List<int>();
        for (var option = 0; option < image.Options.Length; option++)
            foreach (var job in StintsOf(image.Options[option], draft.Choice[option]))
                if (draft.Night[job] < 0) missing.Add(job);
        missing.Sort((one, other) => image.Jobs[one].Rank - image.Jobs[other].Rank);
        return missing;
    }

    public static int[] StintsOf(DisplayOption option, int choice) =>
        choice switch { 0 => option.Stints, 1 => option.AlternateStints, _ => [] };

    private void Want(Draft draft, int option, bool want)
    {
        foreach (var job in StintsOf(image.Options[option], draft.Choice[option])) wanted[job] = want;
    }

    private void Place(Draft draft, int job)
    {
        if (!wanted[job] || draft.Night[job] >= 0 || visiting[job] || image.Jobs[job].Final) return;
        visiting[job] = true;
        foreach (var member in image.Jobs[job].Group)
            foreach (var tie in image.Jobs[member].Before) Place(draft, tie.Job);
        if (draft.Night[job] >= 0) return;
        if (Waits(draft, job) || !placer.PlaceGroup(draft, job)) failed.Add(job);
    }

    /// <summary>Something that comes before it has found no place: put down now, it would bar that place for good.</summary>
    private bool Waits(Draft draft, int job)
    {
        foreach (var member in image.Jobs[job].Group)
            foreach (var tie in image.Jobs[member].Before)
                if (wanted[tie.Job] && draft.Night[tie.Job] < 0 && !image.Jobs[job].Group.Contains(tie.Job)) return true;
        return false;
    }

    private void ChooseOthers(Draft draft)
    {
        for (var at = 0; at < failed.Count; at++)
        {
            var job = image.Jobs[failed[at]];
            var option = Array.FindIndex(image.Options, option =>
                option.Display == job.Display || option.Alternate == job.Display);
            if (draft.Night[job.Index] >= 0 || !wanted[job.Index]) continue;
            var choices = image.Options[option].Choices;
            var next = Array.IndexOf(choices, draft.Choice[option]) + 1;
            if (next >= choices.Length) continue;
            Switch(draft, option, choices[next]);
            foreach (var stint in StintsOf(image.Options[option], draft.Choice[option])) Place(draft, stint);
        }
    }

    /// <summary>Takes another choice for a display; the stints of the one before are lifted.</summary>
    public void Switch(Draft draft, int option, int choice)
    {
        Want(draft, option, want: false);
        foreach (var stint in StintsOf(image.Options[option], draft.Choice[option]))
            if (draft.Night[stint] >= 0)
            {
                var night = draft.Night[stint];
                draft.Lift(stint);
                placer.CleanDownAfter(draft, image.Jobs[stint].Zone, night);
            }
        draft.Choice[option] = choice;
        Want(draft, option, want: true);
    }
}
