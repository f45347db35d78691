namespace SetWeek.Model.Weeks;

/// <summary>The store: its time zone, its zones and its equipment.</summary>
public sealed record Store
{
    /// <summary>Id of the store.</summary>
    public required string Id { get; init; }

    /// <summary>IANA zone id, e.g. "Europe/London".</summary>
    public required string TimeZone { get; init; }

    /// <summary>The parts of the store in which tasks are done.</summary>
    public IReadOnlyList<Zone> Zones { get; init; } = [];

    /// <summary>The kinds of equipment that stints share.</summary>
    public IReadOnlyList<Equipment> Equipment { get; init; } = [];
}

/// <summary>A part of the store.</summary>
/// <param name="Id">Id of the zone.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="MaxPeople">Largest number of people at work in it at once; null means no limit.</param>
/// <param name="CleanDown">The clean-down due each night in which it was worked in; null means none.</param>
/// <param name="TradePerDay">What the zone sells in a day, in minor units of the currency.</param>
public sealed record Zone(
    string Id, string Name, int? MaxPeople = null, ZoneCleanDown? CleanDown = null, int TradePerDay = 0);

/// <summary>The cleaning of a zone, once in each night in which it was worked in, before the store trades again.</summary>
/// <param name="Minutes">Length in minutes, before it is rounded up to the grid.</param>
/// <param name="Roles">The people it takes, all of them for its whole length.</param>
public sealed record ZoneCleanDown(int Minutes, IReadOnlyList<SkillRequirement> Roles);

/// <summary>A renewable resource: a kind of equipment that work uses while it runs.</summary>
/// <param name="Id">Id of the equipment.</param>
/// <param name="Count">Number of pieces that the store has.</param>
public sealed record Equipment(string Id, int Count);
