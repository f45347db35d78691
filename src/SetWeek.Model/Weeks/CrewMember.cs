using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>A person who can be given shifts and work in the set week.</summary>
public sealed record CrewMember
{
    /// <summary>Id of the person.</summary>
    public required string Id { get; init; }

    /// <summary>Name that people read.</summary>
    public required string Name { get; init; }

    /// <summary>Level of each skill that the person has, from 1 to 3.</summary>
    public required IReadOnlyDictionary<string, int> Skills { get; init; }

    /// <summary>True if the person can open and close the store.</summary>
    public bool Keyholder { get; init; }

    /// <summary>True if the young-worker rules apply to the person.</summary>
    public bool Under18 { get; init; }

    /// <summary>Pay in minor units of the week's currency per hour.</summary>
    public required int RatePerHour { get; init; }

    /// <summary>When the person can work. A shift lies inside one entry; a night without an entry has no shift.</summary>
    public IReadOnlyList<Availability> Available { get; init; } = [];

    /// <summary>
    /// Times at which the person is busy elsewhere. A shift overlaps none of them and keeps the rest to them.
    /// </summary>
    public IReadOnlyList<Commitment> Commitments { get; init; } = [];

    /// <summary>Longest shift in minutes, break included; null means that the rules alone limit it.</summary>
    public int? MaxMinutesPerNight { get; init; }

    /// <summary>Largest number of shifts in the week; null means no limit.</summary>
    public int? MaxNights { get; init; }

    /// <summary>Minutes worked in this pay week before the first night. They count towards overtime.</summary>
    public int MinutesAlready { get; init; }

    /// <summary>
    /// Rules that do not bind this person. The conflict search sets it to test a relaxation; no week file contains it.
    /// </summary>
    internal RuleExemptions Exemptions { get; init; }
}

/// <summary>Rules that the conflict search can relax for one person, to test whether the week then has a plan.</summary>
[Flags]
internal enum RuleExemptions { None = 0, Rest = 1, Breaks = 2, ShiftLength = 4, YoungWorker = 8 }

/// <summary>A half-open span of one night in which a person can work.</summary>
/// <param name="Night">Id of the night.</param>
/// <param name="From">Store-local start; null means the night's opens.</param>
/// <param name="To">Store-local end; null means the night's closes.</param>
public sealed record Availability(string Night, LocalDateTime? From = null, LocalDateTime? To = null);

/// <summary>A half-open span in which a person is busy elsewhere, for example on a day shift or at college.</summary>
/// <param name="From">Store-local start.</param>
/// <param name="To">Store-local end.</param>
public sealed record Commitment(LocalDateTime From, LocalDateTime To);
