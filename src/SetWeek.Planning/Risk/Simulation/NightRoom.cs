using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>From when a night's people are at work and until when each may stay, if every rule is kept.</summary>
internal sealed class NightRoom
{
    private readonly Problem problem;
    private readonly Shift?[,] shifts;

    public NightRoom(Problem problem, Schedule schedule)
    {
        this.problem = problem;
        shifts = new Shift?[problem.Crew.Count, problem.Nights.Count];
        foreach (var shift in schedule.Shifts) shifts[shift.Person, shift.Night] = shift;
        Keyholders = schedule.Keyholders;
        Latest = new float[problem.Crew.Count, problem.Nights.Count];
        foreach (var night in problem.Nights)
            foreach (var person in problem.Crew)
                Latest[person.Index, night.Index] = shifts[person.Index, night.Index] is { } shift
                    ? LatestEnd(shift) : night.Closes;
        Closing = problem.Rules.KeyholderPresent ? problem.Rules.ClosingMinutes ?? 0 : 0;
        Starts = [.. problem.Nights.Select(Start)];
        Ends = [.. problem.Nights.Select(End)];
    }

    public IReadOnlyList<int?> Keyholders { get; }

    /// <summary>Minutes that the keyholder needs after the night's last work.</summary>
    public int Closing { get; }

    /// <summary>By night: its first work starts no sooner.</summary>
    public IReadOnlyList<float> Starts { get; }

    /// <summary>By night: its last work ends by then, if all rules are kept.</summary>
    public IReadOnlyList<float> Ends { get; }

    /// <summary>
    /// By person and night: until when they can be asked to stay; to the end, where the plan gives them no shift.
    /// </summary>
    public float[,] Latest { get; }

    public Shift? ShiftOf(int person, int night) => shifts[person, night];

    private float Start(NightWindow night) =>
        problem.Rules.KeyholderPresent && Keyholders[night.Index] is { } keyholder && shifts[keyholder, night.Index] is { } shift
            ? shift.From + (problem.Rules.OpeningMinutes ?? 0) : night.Opens;

    /// <summary>The keyholder closes, and as many people as must be there together stay that long.</summary>
    private float End(NightWindow night)
    {
        float end = night.Closes;
        if (problem.Rules.KeyholderPresent && Keyholders[night.Index] is { } keyholder
            && shifts[keyholder, night.Index] is not null)
            end = Math.Min(end, Latest[keyholder, night.Index]);
        if (problem.Rules.MinPeople is { } together)
        {
            var stays = problem.Crew.Where(person => shifts[person.Index, night.Index] is not null)
                .Select(person => Latest[person.Index, night.Index]).OrderDescending().Skip(together - 1).ToArray();
            if (stays.Length > 0) end = Math.Min(end, stays[0]);
        }
        return end - Closing;
    }

    /// <summary>Never sooner than planned: what a rule has already let pass is not held against the shift.</summary>
    private float LatestEnd(Shift shift)
    {
        var (person, night) = (problem.Crew[shift.Person], problem.Nights[shift.Night]);
        var day = Math.Min(person.MaxShift - Joined(person, shift), person.MaxMinutesPerNight);
        var latest = Math.Min(night.Closes, shift.From + Math.Min(day, Problem.Never / 2));
        foreach (var window in person.Windows[shift.Night])
            if (window.From <= shift.From && shift.From < window.To) latest = Math.Min(latest, window.To);
        foreach (var busy in person.Commitments)
            if (busy.From >= shift.To) latest = Math.Min(latest, busy.From - person.MinRest);
        for (var later = shift.Night + 1; later < problem.Nights.Count; later++)
            if (shifts[shift.Person, later] is { } next)
            {
                latest = Math.Min(latest, next.From - person.MinRest);
                break;
            }
        if (person.BreakAfter < Problem.Never) latest = Math.Min(latest, (shift.Break?.To ?? shift.From) + person.BreakAfter);
        return Math.Max(shift.To, latest);
    }

    /// <summary>Minutes of commitments that make one working day with the shift.</summary>
    private static int Joined(Person person, Shift shift) => person.Commitments
        .Where(busy => busy.To <= shift.From && shift.From - busy.To <= person.Join).Sum(busy => busy.Minutes);
}
