using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Faults as they are found; handed over in the order of the file.</summary>
internal sealed class FaultCollector
{
    /// <summary>A file of megabytes of nonsense must not become an answer of gigabytes.</summary>
    public const int MaxFaults = 1000;

    private readonly HashSet<Fault> seen = [];
    private readonly List<Fault> all = [];
    private bool truncated;

    public bool Any => all.Count > 0;

    /// <summary>There is more than is handed over: no use in looking further.</summary>
    public bool IsTruncated => truncated;

    public void Add(Fault fault)
    {
        if (all.Count == MaxFaults) truncated = true;
        else if (seen.Add(fault)) all.Add(fault);
    }

    /// <summary>Nothing is wrong at the place itself, below it or, the root apart, above it.</summary>
    public bool IsFaultFree(string pointer) => !all.Exists(fault =>
        IsWithin(fault.Pointer, pointer) || (fault.Pointer.Length > 0 && IsWithin(pointer, fault.Pointer)));

    public FaultReport InOrderOf(JsonElement root)
    {
        var places = new JsonPositions(root);
        List<Fault> ordered = [.. all.OrderBy(fault => places.PositionOf(fault.Pointer), JsonPositions.DocumentOrder)];
        if (truncated) ordered.Add(new Fault("", $"There are more faults; these are the first {MaxFaults}."));
        return new FaultReport(ordered);
    }

    private static bool IsWithin(string pointer, string outer) =>
        pointer.StartsWith(outer, StringComparison.Ordinal) && (pointer.Length == outer.Length || pointer[outer.Length] == '/');
}
