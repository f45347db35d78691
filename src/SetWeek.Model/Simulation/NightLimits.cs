using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Simulation;

/// <summary>Computes how early the work of a night can start, and how late people can stay without breaking a rule.</summary>
internal sealed class NightLimits
{
    private readonly Problem problem;
    private readonly ScheduledShift?[,] shifts;

    public NightLimits(Problem problem, Schedule schedule)
    {
        this.problem = problem;
        shifts = new ScheduledShift?[problem.Crew.Count, problem.Nights.Count];
        foreach (var shift in schedule.Shifts) shifts[shift.Person, shift.Night] = shift;
        Keyholders = schedule.Keyholders;
        LatestDepartures = new float[problem.Crew.Count, problem.Nights.Count];
        foreach (var night in problem.Nights)
            foreach (var person in problem.Crew)
                LatestDepartures[person.Index, night.Index] = shifts[person.Index, night.Index] is { } shift
                    ? LatestDepartureOf(shift) : night.Closes;
        ClosingMinutes = problem.Rules.KeyholderPresent ? problem.Rules.ClosingMinutes ?? 0 : 0;
        EarliestStarts = [.. problem.Nights.Select(EarliestStart)];
        LatestEnds = [.. problem.Nights.Select(LatestEnd)];
    }

    public IReadOnlyList<int?> Keyholders { get; }

    /// <summary>Minutes that the keyholder needs for closing after the night's last work.</summary>
    public int ClosingMinutes { get; }

    /// <summary>By night: the earliest start of work.</summary>
    public IReadOnlyList<float> EarliestStarts { get; }

    /// <summary>By night: the latest end of work that keeps all rules.</summary>
    public IReadOnlyList<float> LatestEnds { get; }

    /// <summary>
    /// By person and night: the latest end of the person's shift that keeps all rules; the night's end if the plan has no shift.
    /// </summary>
    public float[,] LatestDepartures { get; }

    public ScheduledShift? ShiftOf(int person, int night) => shifts[person, night];

    private float EarliestStart(NightWindow night) =>
        problem.Rules.KeyholderPresent && Keyholders[night.Index] is { } keyholder && shifts[keyholder, night.Index] is { } shift
            ? shift.From + (problem.Rules.OpeningMinutes ?? 0) : night.Opens;

    /// <summary>
    /// Closing needs the keyholder. Until the last work ends, the least number of people that must be present together stays.
    /// </summary>
    private float LatestEnd(NightWindow night)
    {
        float end = night.Closes;
        if (problem.Rules.KeyholderPresent && Keyholders[night.Index] is { } keyholder
            && shifts[keyholder, night.Index] is not null)
            end = Math.Min(end, LatestDepartures[keyholder, night.Index]);
        if (problem.Rules.MinPeople is { } together)
        {
            var stays = problem.Crew.Where(person => shifts[person.Index, night.Index] is not null)
                .Select(person => LatestDepartures[person.Index, night.Index]).OrderDescending().Skip(together - 1).ToArray();
            if (stays.Length > 0) end = Math.Min(end, stays[0]);
        }
        return end - ClosingMinutes;
    }

    /// <summary>At least the planned end, because the check has accepted the planned shift.</summary>
    private float LatestDepartureOf(ScheduledShift shift)
    {
        var (person, night) = (problem.Crew[shift.Person], problem.Nights[shift.Night]);
        var maxMinutes = Math.Min(person.MaxShift - JoinedCommitmentMinutes(person, shift), person.MaxMinutesPerNight);
        var latest = Math.Min(night.Closes, shift.From + Math.Min(maxMinutes, Problem.Never / 2));
        foreach (var window in person.ShiftWindows[shift.Night])
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

    /// <summary>Minutes of commitments that count towards the same working day as the shift.</summary>
    private static int JoinedCommitmentMinutes(Person person, ScheduledShift shift) => person.Commitments
        .Where(busy => busy.To <= shift.From && shift.From - busy.To <= person.JoinMinutes).Sum(busy => busy.Minutes);
}
