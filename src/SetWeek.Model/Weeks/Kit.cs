using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>Material that is shipped to the store and that tasks need before they start.</summary>
/// <param name="Id">Id of the kit.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="Eta">Store-local arrival; null means unknown, which keeps every task that needs the kit from starting.</param>
public sealed record Kit(string Id, string Name, LocalDateTime? Eta)
{
    /// <summary>The items of the kit, each once.</summary>
    public IReadOnlyList<KitLine> Lines { get; init; } = [];
}

/// <summary>One item of a kit. A line that has not been counted is assumed to be complete.</summary>
/// <param name="Item">Name of the item, which tasks refer to.</param>
/// <param name="Expected">Pieces shipped.</param>
public sealed record KitLine(string Item, int Expected)
{
    /// <summary>Pieces counted on arrival, damaged ones included; null means not counted yet.</summary>
    public int? Received { get; init; }

    /// <summary>Damaged pieces among those received; null means none.</summary>
    public int? Damaged { get; init; }

    /// <summary>True if a person decided to work with the good pieces there are, so the line holds no task up.</summary>
    public bool Settled { get; init; }
}
