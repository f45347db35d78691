using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// The plan with the stint at another time or with other people, and only what follows from that: their shifts cover it, so
/// does the keyholder's with what opening and closing take, and a clean-down that nobody's work asks for any more goes.
/// </summary>
internal sealed class Move(Subject subject)
{
    private readonly Problem problem = subject.Problem;
    private readonly Stretching stretching = new(subject.Problem);

    public Schedule To(int night, int from, IReadOnlyList<Hand> people)
    {
        var moved = subject.Work with { Night = night, From = from, To = from + subject.Minutes, People = people };
        Work[] works = [.. subject.Others.Where(other => !Orphaned(other, moved)), moved];
        var shifts = subject.Plan.Shifts.ToList();
        foreach (var hand in people) Cover(shifts, works, hand.Person, night, moved.Span);
        var keyholders = subject.Plan.Keyholders.ToArray();
        if (problem.Rules.KeyholderPresent)
        {
            OpenAndClose(shifts, works, moved);
            Shift[] all = [.. shifts.Where(shift => shift.Night == night)];
            if (First(all) is { } first) keyholders[night] = first;
        }
        return subject.Plan with { Shifts = shifts, Work = works, Keyholders = keyholders };
    }

    /// <summary>One person's week were they on it, and nobody else's: what the rules of people's time are asked of.</summary>
    public Schedule Alone(int person, int night, int from)
    {
        var moved = subject.Work with { Night = night, From = from, To = from + subject.Minutes, People = [new Hand(person, 0)] };
        Work[] works = [.. subject.Others.Where(other => other.People.Any(hand => hand.Person == person)), moved];
        var shifts = subject.Plan.Shifts.Where(shift => shift.Person == person).ToList();
        Cover(shifts, works, person, night, moved.Span);
        return subject.Plan with { Shifts = shifts, Work = works };
    }

    private bool Orphaned(Work down, Work moved) =>
        down.IsCleanDown && down.Zone == moved.Zone && down.Night != moved.Night && down.Night == subject.Work.Night
        && problem.Facts?.BegunCleanDowns.Contains(down) != true
        && !subject.Others.Any(other => other.Stint is { } stint && other.Night == down.Night && other.Zone == down.Zone
            && !problem.Stints[stint].Task.Last);

    private void Cover(List<Shift> shifts, IReadOnlyList<Work> works, int person, int night, Span span)
    {
        var at = shifts.FindIndex(shift => shift.Person == person && shift.Night == night);
        Work[] theirs = [.. works.Where(work => work.People.Any(hand => hand.Person == person))];
        var covering = stretching.Over(at < 0 ? null : shifts[at], person, night, span, theirs);
        if (at < 0) shifts.Add(covering);
        else shifts[at] = covering;
    }

    /// <summary>In a night without anybody so far, whoever is on it and holds a key.</summary>
    private void OpenAndClose(List<Shift> shifts, IReadOnlyList<Work> works, Work moved)
    {
        var night = moved.Night;
        var holder = subject.Plan.Keyholders[night]
            ?? moved.People.Where(hand => problem.Crew[hand.Person].Keyholder).Select(hand => (int?)hand.Person).FirstOrDefault();
        if (holder is not { } keyholder) return;
        var there = shifts.Where(shift => shift.Night == night).ToArray();
        var own = there.FirstOrDefault(shift => shift.Person == keyholder);
        var opens = Math.Min(there.Min(shift => shift.From), moved.From - (problem.Rules.OpeningMinutes ?? 0));
        var closes = Math.Max(there.Max(shift => shift.To), moved.To + (problem.Rules.ClosingMinutes ?? 0));
        if (own is not null && own.From <= opens && own.To >= closes) return;
        var free = works.Where(work => work.People.Any(hand => hand.Person == keyholder)).ToArray();
        // The stretches by themselves, so that a break within the shift is no matter.
        foreach (var end in (Span[])[new(opens, opens + 1), new(closes - 1, closes)])
            if (shifts.FindIndex(shift => shift.Person == keyholder && shift.Night == night) is var at)
            {
                if (at < 0) shifts.Add(stretching.Over(null, keyholder, night, end, free));
                else shifts[at] = stretching.Over(shifts[at], keyholder, night, end, free);
            }
    }

    private int? First(Shift[] shifts) => shifts
        .Where(own => problem.Crew[own.Person].Keyholder && shifts.All(other => own.Span.Contains(other.Span)))
        .OrderBy(own => own.Person).Select(own => (int?)own.Person).FirstOrDefault();
}
