namespace SetWeek.Planning.Annealing;

/// <summary>
/// Removal operators of <see cref="Ruin"/>. The defaults are measured: operators that improved plans in more of their tries
/// are used more often; the others reach schedules that those cannot.
/// </summary>
internal sealed record RuinParameters
{
    /// <summary>Relative frequencies of the operators.</summary>
    public int Random { get; init; } = 3;

    public int TwoNights { get; init; } = 3;
    public int Similar { get; init; } = 3;
    public int IdleShift { get; init; } = 3;
    public int Display { get; init; } = 2;
    public int ShiftTail { get; init; } = 2;
    public int PersonsWork { get; init; } = 1;
    public int TimeWindow { get; init; } = 1;
    public int ZoneNight { get; init; } = 1;

    /// <summary>Probability that final stints are removed too.</summary>
    public double FinalStints { get; init; } = 0.25;

    /// <summary>Probability that clean-downs of zones still in use are inserted again.</summary>
    public double CleanDowns { get; init; } = 0.3;

    /// <summary>Probability that the seed is late work, in searches that have a late-work criterion.</summary>
    public double LateSeed { get; init; } = 0.5;

    /// <summary>Most stints drawn to find late work.</summary>
    public int LateSeedTries { get; init; } = 40;

    /// <summary>Similar: stints drawn for each that is to be removed.</summary>
    public int SimilarTries { get; init; } = 12;

    /// <summary>Similar: lengths differ by at most (the seed's slots + <see cref="SimilarSlots"/>) / this.</summary>
    public int SimilarRatio { get; init; } = 3;

    public int SimilarSlots { get; init; } = 6;

    /// <summary>Idle shift: person-nights drawn, of which the one with most idle time is taken.</summary>
    public int IdleTries { get; init; } = 4;

    /// <summary>Idle shift: probability that a stint of the shift is removed.</summary>
    public double IdleOwnWork { get; init; } = 0.4;

    /// <summary>
    /// Idle shift: probability, for each other stint that the person could do, is this x the stints wanted / all stints.
    /// </summary>
    public double IdleOtherWork { get; init; } = 1.5;

    /// <summary>Display: probability that a stint of the display is removed.</summary>
    public double DisplayWork { get; init; } = 0.8;

    /// <summary>Shift tail: probability that the end of the person's night is removed; otherwise its beginning is.</summary>
    public double TailRatherThanHead { get; init; } = 0.6;

    /// <summary>Person's work: probability that the person gets no work in that night in this step.</summary>
    public double ExcludePerson { get; init; } = 0.6;

    /// <summary>Time window: half its width, in slots: at least this, and less than <see cref="ReachSpread"/> more.</summary>
    public int MinReach { get; init; } = 4;

    public int ReachSpread { get; init; } = 24;

    /// <summary>Probability for each other stint of the night, until enough are removed.</summary>
    public double More { get; init; } = 0.25;

    /// <summary>Slots before and after a wanted place that are cleared too: fewer than this.</summary>
    public int Slack { get; init; } = 6;

    /// <summary>Probability that a stint that competes for a missing stint's place is removed.</summary>
    public double Blocker { get; init; } = 0.85;

    /// <summary>Probability that a stint that competes for a stint's published place is removed.</summary>
    public double PublishedNightBlocker { get; init; } = 0.6;

    /// <summary>Person-night: probability that any of the person's nights is taken, which may be one without work.</summary>
    public double AnyNight { get; init; } = 0.5;

    /// <summary>
    /// Published shift: probability that other people's work outside its hours is removed too. A keyholder, or a second person,
    /// is present for their work.
    /// </summary>
    public double OthersBeyondShift { get; init; } = 0.5;

    /// <summary>Published shift: probability for each stint of that work.</summary>
    public double OtherBeyondShift { get; init; } = 0.7;
}
