using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Keeps a keyholder there around a night's work while work is placed, so that a night is never opened in vain.
/// </summary>
internal sealed class Keyholding(Image image, PersonNight personNight)
{
    /// <summary>
    /// What it adds to have a keyholder, and company for them, around work in these slots; null where nobody can.
    /// </summary>
    public double? Price(Draft draft, Crewing crewing, Tariff tariff, int night, int start, int end)
    {
        if (!image.KeyholderPresent) return 0;
        if (Found(draft, night, start, end) is not { } stay) return null;
        var at = stay.Person * image.Nights + night;
        if (stay.From == draft.ShiftFrom[at] && stay.To == draft.ShiftTo[at] && draft.Keyholder[night] == stay.Person) return 0;
        var before = draft.ShiftFrom[at] < 0 ? 0 : personNight.PaidSlots(stay.Person, draft.ShiftTo[at] - draft.ShiftFrom[at]);
        var added = (personNight.PaidSlots(stay.Person, stay.To - stay.From) - before) * image.Grid;
        var company = Math.Max(0, image.MinPeople - 1) * (double)added * image.MeanRate / 2;
        var price = crewing.Pay(draft, stay.Person, added) + company;
        return price * tariff.Pay + (draft.Keyholder[night] < 0 ? tariff.OpenNight : 0);
    }

    /// <summary>After work was put there: the keyholder's shift spans it, opening and closing included.</summary>
    public bool Open(Draft draft, Undo undo, int night, int start, int end)
    {
        if (!image.KeyholderPresent) return true;
        if (Found(draft, night, start, end) is not { } stay) return false;
        undo.SetKeyholder(draft, night, stay.Person);
        undo.SetShift(draft, stay.Person, night, stay.From, stay.To);
        return true;
    }

    private (int Person, int From, int To)? Found(Draft draft, int night, int start, int end)
    {
        var (first, last) = (start - image.Opening, end + image.Closing);
        if (draft.Keyholder[night] is >= 0 and var keyholder)
        {
            var at = keyholder * image.Nights + night;
            var (from, to) = (draft.ShiftFrom[at], draft.ShiftTo[at]);
            if (from <= first && last <= to) return (keyholder, from, to);
            if (Stays(draft, keyholder, night, Math.Min(from, first), Math.Max(to, last)) is { } longer) return longer;
            var work = draft.WorkOf(night);
            if (work.From >= 0)
                (first, last) = (Math.Min(first, work.From - image.Opening), Math.Max(last, work.To + image.Closing));
        }
        (int Person, int From, int To)? best = null;
        foreach (var person in image.Keyholders)
        {
            var at = person * image.Nights + night;
            var (from, to) = draft.ShiftFrom[at] < 0
                ? (first, last) : (Math.Min(first, draft.ShiftFrom[at]), Math.Max(last, draft.ShiftTo[at]));
            if (Stays(draft, person, night, from, to) is { } stay
                && (best is not { } other
                    || (stay.To - stay.From) * image.Rates[person] < (other.To - other.From) * image.Rates[other.Person]))
                best = stay;
        }
        return best;
    }

    private (int Person, int From, int To)? Stays(Draft draft, int person, int night, int first, int last)
    {
        if (first < 0 || last > image.SlotCounts[night]) return null;
        return personNight.Fit(draft, person, night, first, last, 0, 0, 0, 0, out var from, out var to)
            ? (person, from, to) : null;
    }
}
