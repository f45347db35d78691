using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>The draft that every plan grows from: empty, or with what has begun by now.</summary>
internal static class Beginning
{
    public static Draft Of(Image image)
    {
        var draft = new Draft(image);
        for (var option = 0; option < image.Options.Length; option++) draft.Choice[option] = image.Options[option].Choices[0];
        if (image.Problem.Facts is not { } facts) return draft;
        foreach (var work in facts.Begun.OfType<Work>())
            draft.PutBegun(work.Stint!.Value, work, image.Problem.Stints[work.Stint.Value].Task.Ways[work.Mode].Equipment);
        foreach (var work in facts.BegunCleanDowns) draft.PutBegun(image.CleanDown(work.Zone, work.Night), work, []);
        for (var at = 0; at < image.People * image.Nights; at++)
        {
            if (image.Begun.Kind(at) == ShiftKind.Open) continue;
            var (person, night) = (at / image.Nights, at % image.Nights);
            image.SetShift(draft, person, night, image.Begun.From(at), image.Begun.To(at));
            if (image.Begun.Kind(at) == ShiftKind.UnderWay) CloseThePast(image, draft, person, night, image.Begun.Of(at));
        }
        for (var night = 0; night < image.Nights; night++)
            if (image.Opens[night] + image.SlotCounts[night] * image.Grid <= image.Now)
                draft.Keyholder[night] = facts.Published.Keyholders[night] ?? -1;
            else
                draft.Touched |= 1u << night;
        return draft;
    }

    /// <summary>
    /// No break and no work can be planned into what is gone of a shift under way, nor into a break that has begun.
    /// </summary>
    private static void CloseThePast(Image image, Draft draft, int person, int night, Shift shift)
    {
        var busy = draft.BusyRow(person, night);
        Slots.Add(busy, image.Begun.From(person * image.Nights + night),
            Math.Min(image.SlotCounts[night], image.SlotAtOrAfter(night, image.Now)));
        if (shift.Break is { } rest && rest.From < image.Now)
            Slots.Add(busy, Math.Max(0, image.SlotAtOrBefore(night, rest.From)),
                Math.Min(image.SlotCounts[night], image.SlotAtOrAfter(night, rest.To)));
    }
}
