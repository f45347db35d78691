using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Scenarios;

/// <summary>
/// The work and the breaks of one night of a partial schedule in the order of their planned starts, and the times by which its
/// people have to leave. One night at a time: <see cref="Prepare"/> replaces the night before.
/// </summary>
internal sealed class NightSteps
{
    private readonly CompactProblem compact;
    private readonly Problem problem;
    private readonly int closing;
    private readonly int[] steps, stepFrom, departures, breakTo;

    /// <param name="compact">The problem.</param>
    /// <param name="closing">Minutes of the keyholder after the last work of a night.</param>
    public NightSteps(CompactProblem compact, int closing)
    {
        (this.compact, this.closing, problem) = (compact, closing, compact.Problem);
        Most = compact.Activities.Length + compact.People;
        (steps, stepFrom) = (new int[Most], new int[Most]);
        (departures, breakTo) = (new int[compact.People], new int[compact.People]);
    }

    /// <summary>The most steps that a night can have.</summary>
    public int Most { get; }

    /// <summary>Number of steps of the prepared night.</summary>
    public int Count { get; private set; }

    /// <summary>By step: the activity, or -1 - person for the break of a person.</summary>
    public int this[int step] => steps[step];

    /// <summary>By step: the planned start.</summary>
    public int FromOf(int step) => stepFrom[step];

    /// <summary>The latest time at which a person of the night may leave.</summary>
    public int DepartureOf(int person) => departures[person];

    /// <summary>Planned length of a person's break.</summary>
    public int BreakMinutes(int person, int from) => breakTo[person] - from;

    /// <summary>
    /// Collects the night's work and breaks in their order, and returns a hash of all that the result depends on. Equal hashes
    /// are taken for equal nights. They have 64 bits, so a collision is far rarer than the noise of the sample.
    /// </summary>
    public ulong Prepare(PartialSchedule schedule, int night)
    {
        Count = 0;
        var hash = SplitMix64.Mix((ulong)night);
        for (var activity = 0; activity < compact.Activities.Length; activity++)
        {
            if (schedule.Night[activity] != night) continue;
            hash = SplitMix64.Mix(hash ^ (ulong)activity << 40 ^ (ulong)(uint)schedule.StartMinute[activity] << 4
                ^ (uint)(schedule.Mode[activity] + 1));
            var people = 0UL;
            foreach (var person in schedule.PeopleOf(activity)) people |= 1UL << person;
            hash = SplitMix64.Mix(hash ^ people);
            foreach (var precedence in compact.Activities[activity].Predecessors)
                if (schedule.Night[precedence.Activity] is >= 0 and var other && other != night)
                    hash = SplitMix64.Mix(hash ^ (uint)schedule.EndMinute[precedence.Activity]);
            AddStep(activity, schedule.StartMinute[activity]);
        }
        for (var person = 0; person < compact.People; person++)
        {
            departures[person] = problem.Nights[night].Closes;
            var at = person * compact.Nights + night;
            if (schedule.ShiftFrom[at] < 0) continue;
            var shift = ScheduleCompletion.ShiftOf(compact, schedule, person, night);
            breakTo[person] = shift.Break?.To ?? -1;
            departures[person] = NightLimits.LatestDeparture(
                problem, person, night, shift.Span, shift.Break?.To, NextShiftFrom(schedule, person, night));
            hash = SplitMix64.Mix(hash ^ (ulong)person << 56 ^ (ulong)(uint)shift.From << 36
                ^ (ulong)(uint)departures[person] << 16 ^ (uint)(shift.Break is { } rest ? rest.From - shift.From + 1 : 0));
            if (shift.Break is { } taken) AddStep(-1 - person, taken.From);
        }
        return SplitMix64.Mix(hash ^ (uint)(schedule.Keyholder[night] + 1));
    }

    /// <summary>Insertion sort by planned start: a night has few steps.</summary>
    private void AddStep(int step, int from)
    {
        var at = Count++;
        for (; at > 0 && (stepFrom[at - 1] > from || (stepFrom[at - 1] == from && ComesAfter(steps[at - 1], step))); at--)
            (steps[at], stepFrom[at]) = (steps[at - 1], stepFrom[at - 1]);
        (steps[at], stepFrom[at]) = (step, from);
    }

    /// <summary>The final floor clean comes last of those that start together.</summary>
    private bool ComesAfter(int step, int other) => step >= 0 && compact.Activities[step].IsFinal
        && (other < 0 || !compact.Activities[other].IsFinal);

    private int NextShiftFrom(PartialSchedule schedule, int person, int night)
    {
        for (var later = night + 1; later < compact.Nights; later++)
            if (schedule.ShiftFrom[person * compact.Nights + later] is >= 0 and var slot) return compact.MinuteAt(later, slot);
        return Problem.Never;
    }

    /// <summary>Latest end of work that keeps all rules: the keyholder closes, and the least number of people stay.</summary>
    public int LatestEnd(PartialSchedule schedule, int night)
    {
        var end = problem.Nights[night].Closes;
        if (schedule.Keyholder[night] is >= 0 and var keyholder) end = Math.Min(end, departures[keyholder]);
        if (compact.MinPeople > 0)
        {
            Span<int> stays = stackalloc int[compact.People];
            var count = 0;
            for (var person = 0; person < compact.People; person++)
                if (schedule.ShiftFrom[person * compact.Nights + night] >= 0) stays[count++] = -departures[person];
            stays[..count].Sort();
            if (count >= compact.MinPeople) end = Math.Min(end, -stays[compact.MinPeople - 1]);
        }
        return end - closing;
    }
}
