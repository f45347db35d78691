namespace SetWeek.Planning.Compact;

/// <summary>
/// What a try changed of shifts and keyholders, to go back to before it; cheaper than keeping the whole draft for each job.
/// </summary>
internal sealed class Undo(Image image)
{
    private readonly List<(int At, int From, int To)> shifts = [];
    private readonly List<(int Night, int Keyholder)> keyholders = [];

    public (int Shifts, int Keyholders) Mark => (shifts.Count, keyholders.Count);

    public void SetShift(Draft draft, int person, int night, int from, int to)
    {
        var at = person * image.Nights + night;
        if (draft.ShiftFrom[at] == from && draft.ShiftTo[at] == to) return;
        shifts.Add((at, draft.ShiftFrom[at], draft.ShiftTo[at]));
        image.SetShift(draft, person, night, from, to);
    }

    public void SetKeyholder(Draft draft, int night, int person)
    {
        if (draft.Keyholder[night] == person) return;
        keyholders.Add((night, draft.Keyholder[night]));
        draft.Keyholder[night] = person;
    }

    /// <summary>What was tried stays: nothing before it is gone back to any more.</summary>
    public void Forget()
    {
        shifts.Clear();
        keyholders.Clear();
    }

    public void BackTo(Draft draft, (int Shifts, int Keyholders) mark)
    {
        while (shifts.Count > mark.Shifts)
        {
            var (at, from, to) = shifts[^1];
            shifts.RemoveAt(shifts.Count - 1);
            image.SetShift(draft, at / image.Nights, at % image.Nights, from, to);
        }
        while (keyholders.Count > mark.Keyholders)
        {
            var (night, keyholder) = keyholders[^1];
            keyholders.RemoveAt(keyholders.Count - 1);
            draft.Keyholder[night] = keyholder;
        }
    }
}
