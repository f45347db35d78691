using System.Numerics;

namespace SetWeek.Planning.Annealing;

/// <summary>What may be taken out together, and how often each of the kinds is.</summary>
internal sealed partial class Ruin
{
    /// <summary>How often a ruin begins with what is beyond a line, and jobs looked at for one.</summary>
    private const double BeyondFirst = 0.5;
    private const int SeedTries = 40;

    /// <summary>Kinds that bettered plans in more of their tries have more of them; the others reach what those cannot.</summary>
    private void TakeSome(ReadOnlySpan<int> placed)
    {
        var seed = Seed(placed);
        switch (chance.Below(19))
        {
            case < 3: Scattered(placed); break;
            case < 6: TwoNights(seed, placed); break;
            case < 9: Alike(seed, placed); break;
            case < 12: IdleTime(); break;
            case < 14: Display(seed); break;
            case < 16: PersonTail(seed); break;
            case 16: PersonNight(seed); break;
            case 17: Around(seed); break;
            default: ZoneNight(seed); break;
        }
    }

    /// <summary>By chance; where nights are to be emptied, often one of those in the way, if any of a few is.</summary>
    private int Seed(ReadOnlySpan<int> placed)
    {
        var seed = placed[chance.Below(placed.Length)];
        if (image.Drain is not { } drain || !chance.Happens(BeyondFirst)) return seed;
        for (var tries = 0; tries < SeedTries && drain.Beyond(image.Jobs[seed], draft.From[seed], draft.To[seed]) == 0; tries++)
            seed = placed[chance.Below(placed.Length)];
        return seed;
    }

    private void Scattered(ReadOnlySpan<int> placed)
    {
        for (var step = 0; step < wanted; step++) Lift(placed[chance.Below(placed.Length)]);
    }

    /// <summary>Some work of two nights at once, so that it can change places.</summary>
    private void TwoNights(int seed, ReadOnlySpan<int> placed)
    {
        var (one, other) = (draft.Night[seed], draft.Night[placed[chance.Below(placed.Length)]]);
        var share = wanted / (double)placed.Length * image.Nights / 2;
        foreach (var job in placed)
            if ((draft.Night[job] == one || draft.Night[job] == other) && chance.Happens(share)) Lift(job);
    }

    /// <summary>Jobs that could change places: for the same people, and about as long.</summary>
    private void Alike(int seed, ReadOnlySpan<int> placed)
    {
        var way = image.Jobs[seed].Manners[0];
        Lift(seed);
        for (var step = 0; step < 12 * wanted && taken.Count < wanted; step++)
        {
            var other = placed[chance.Below(placed.Length)];
            var its = image.Jobs[other].Manners[0];
            if (Math.Abs(its.Slots - way.Slots) * 3 > way.Slots + 6 || its.Seats.Length != way.Seats.Length
                || way.Seats.Length > 0 && (its.Seats[0].Eligible & way.Seats[0].Eligible) == 0)
                continue;
            Lift(other);
        }
    }

    /// <summary>Some work of a shift with much time paid and not worked, and some that could be done there.</summary>
    private void IdleTime()
    {
        var at = MostIdleOf(4);
        if (at < 0) return;
        var (who, night) = (at / image.Nights, at % image.Nights);
        for (var job = 0; job < image.Stints && taken.Count < wanted; job++)
        {
            if (!Movable(job)) continue;
            var theirs = draft.Night[job] == night && draft.HandsOf(job).Contains((byte)who);
            var could = (image.Jobs[job].Manners[draft.Manner[job]].Eligible & 1UL << who) != 0;
            if (chance.Happens(theirs ? 0.4 : could ? 1.5 * wanted / image.Stints : 0)) Lift(job);
        }
    }

    /// <summary>Of so many person-nights by chance, the shift with most time not worked; -1 where none has a shift.</summary>
    private int MostIdleOf(int tries)
    {
        var (found, most) = (-1, -1);
        if (draft.ShiftFrom.Length == 0) return found; // a week without crew
        for (var step = 0; step < tries; step++)
        {
            var at = chance.Below(draft.ShiftFrom.Length);
            if (draft.ShiftFrom[at] < 0) continue;
            var idle = draft.ShiftTo[at] - draft.ShiftFrom[at];
            foreach (var word in draft.Busy.AsSpan(at * image.Words, image.Words)) idle -= BitOperations.PopCount(word);
            if (idle > most) (found, most) = (at, idle);
        }
        return found;
    }

    private void Display(int seed)
    {
        var display = image.Jobs[seed].Display;
        for (var job = 0; job < image.Stints; job++)
            if (image.Jobs[job].Display == display && Movable(job) && chance.Happens(0.8)) Lift(job);
    }

    /// <summary>The end, or the beginning, of somebody's night.</summary>
    private void PersonTail(int seed)
    {
        if (draft.HandCount[seed] == 0) { Around(seed); return; }
        var (night, start) = (draft.Night[seed], draft.Start[seed]);
        var person = draft.Hands[seed * image.MostHands + chance.Below(draft.HandCount[seed])];
        var tail = chance.Happens(0.6);
        for (var job = 0; job < image.Stints; job++)
        {
            if (draft.Night[job] != night || !Movable(job) || !draft.HandsOf(job).Contains(person)) continue;
            if (tail ? draft.Start[job] >= start : draft.Start[job] <= start) Lift(job);
        }
        Thin(night);
    }

    /// <summary>All that somebody does in a night; half the time they get nothing there this time.</summary>
    private void PersonNight(int seed)
    {
        var night = draft.Night[seed];
        var person = draft.HandCount[seed] > 0 ? draft.Hands[seed * image.MostHands + chance.Below(draft.HandCount[seed])] : -1;
        for (var job = 0; job < image.Stints; job++)
        {
            if (draft.Night[job] != night || !Movable(job)) continue;
            if (person < 0 ? job == seed : draft.HandsOf(job).Contains((byte)person)) Lift(job);
        }
        if (person >= 0 && chance.Happens(0.6)) placer.KeptOff[night] |= 1UL << person;
        Thin(night);
    }

    /// <summary>What goes on about the same time.</summary>
    private void Around(int seed)
    {
        var (night, middle) = (draft.Night[seed], draft.Start[seed]);
        var reach = 4 + chance.Below(24);
        for (var job = 0; job < image.Stints && taken.Count < 2 * wanted; job++)
            if (draft.Night[job] == night && Movable(job) && draft.End[job] > middle - reach && draft.Start[job] < middle + reach)
                Lift(job);
    }

    /// <summary>All work of a zone in a night: without it there is no clean-down either.</summary>
    private void ZoneNight(int seed)
    {
        var (night, zone) = (draft.Night[seed], image.Jobs[seed].Zone);
        foreach (var job in image.InZone[zone])
            if (draft.Night[job] == night && Movable(job)) Lift(job);
        Thin(night);
    }

    /// <summary>A few more of the same night, by chance.</summary>
    private void Thin(int night)
    {
        for (var job = 0; job < image.Stints && taken.Count < wanted; job++)
            if (draft.Night[job] == night && Movable(job) && chance.Happens(0.25)) Lift(job);
    }
}
