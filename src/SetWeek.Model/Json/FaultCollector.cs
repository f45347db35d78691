using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Collects faults while a text is read and reports them in the order of the text, each once.</summary>
internal sealed class FaultCollector
{
    /// <summary>Largest number of faults kept. It bounds the size of the report on a hostile file.</summary>
    public const int MaxFaults = 1000;

    private readonly HashSet<Fault> seen = [];
    private readonly List<Fault> all = [];
    private bool truncated;

    /// <summary>True if a fault was found.</summary>
    public bool Any => all.Count > 0;

    /// <summary>True if more faults were found than are kept, so that further checks are useless.</summary>
    public bool IsTruncated => truncated;

    /// <summary>Adds a fault, unless it is known or the report is full.</summary>
    public void Add(Fault fault)
    {
        if (all.Count == MaxFaults) truncated = true;
        else if (seen.Add(fault)) all.Add(fault);
    }

    /// <summary>
    /// True if no fault is known at the pointer, below it, or above it. Faults of the root do not count as above.
    /// </summary>
    public bool IsFaultFree(string pointer) => !all.Exists(fault =>
        IsWithin(fault.Pointer, pointer) || (fault.Pointer.Length > 0 && IsWithin(pointer, fault.Pointer)));

    /// <summary>The report, ordered by the positions in the text that was read.</summary>
    public FaultReport InOrderOf(JsonElement root)
    {
        var positions = new JsonPositions(root);
        List<Fault> ordered = [.. all.OrderBy(fault => positions.PositionOf(fault.Pointer), JsonPositions.DocumentOrder)];
        if (truncated) ordered.Add(new Fault("", $"There are more faults; these are the first {MaxFaults}."));
        return new FaultReport(ordered);
    }

    private static bool IsWithin(string pointer, string outer) =>
        pointer.StartsWith(outer, StringComparison.Ordinal) && (pointer.Length == outer.Length || pointer[outer.Length] == '/');
}
