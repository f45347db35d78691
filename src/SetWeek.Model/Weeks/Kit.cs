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

/// <summary>A line of a kit, compared with what all tasks together need of its item.</summary>
/// <param name="Kit">Id of the kit.</param>
/// <param name="Item">The item of the line.</param>
/// <param name="Required">Pieces that all tasks that name the item need. Tasks of displays that are left out count too.</param>
/// <param name="Missing">Required pieces that a count has shown to be missing or damaged; 0 if the line is settled.</param>
/// <param name="HeldUp">The tasks that may not start while pieces are missing: those that need the item or the whole kit.</param>
internal sealed record KitShortage(string Kit, string Item, int Required, int Missing, IReadOnlyList<WeekTask> HeldUp)
{
    /// <summary>The shortages of a week, in the order of its kits and lines.</summary>
    public static IEnumerable<KitShortage> AllOf(Week week) => week.Kits
        .SelectMany(kit => kit.Lines.Select(line => Of(week, kit, line))).Where(shortage => shortage.Missing > 0);

    /// <summary>The line of an item, short or not.</summary>
    public static KitShortage Of(Week week, string kit, string item)
    {
        var shipped = week.Kits.First(candidate => candidate.Id == kit);
        return Of(week, shipped, shipped.Lines.First(line => line.Item == item));
    }

    private static KitShortage Of(Week week, Kit kit, KitLine line)
    {
        var required = week.Tasks.SelectMany(task => task.Needs).Where(need => need.Kit == kit.Id && need.Item == line.Item)
            .Sum(need => need.Count);
        var missing = line is { Received: { } received, Settled: false } ? required - received + (line.Damaged ?? 0) : 0;
        return new(kit.Id, line.Item, required, required == 0 ? 0 : Math.Max(0, missing),
            [.. week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id && (need.Item ?? line.Item) == line.Item))]);
    }
}
