using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Faults as they are found; handed over in the order of the file.</summary>
internal sealed class FaultList
{
    /// <summary>A file of megabytes of nonsense must not become an answer of gigabytes.</summary>
    public const int Most = 1000;

    private readonly HashSet<Fault> seen = [];
    private readonly List<Fault> all = [];
    private bool more;

    public bool Any => all.Count > 0;

    /// <summary>There is more than is handed over: no use in looking further.</summary>
    public bool Full => more;

    public void Add(Fault fault)
    {
        if (all.Count == Most) more = true;
        else if (seen.Add(fault)) all.Add(fault);
    }

    /// <summary>Nothing is wrong at the place itself, below it or, the root apart, above it.</summary>
    public bool Sound(string pointer) => !all.Exists(fault =>
        IsWithin(fault.Pointer, pointer) || (fault.Pointer.Length > 0 && IsWithin(pointer, fault.Pointer)));

    public Faults InOrderOf(JsonElement root)
    {
        var places = new FilePlaces(root);
        List<Fault> ordered = [.. all.OrderBy(fault => places.Of(fault.Pointer), FilePlaces.Order)];
        if (more) ordered.Add(new Fault("", $"There are more faults; these are the first {Most}."));
        return new Faults(ordered);
    }

    private static bool IsWithin(string pointer, string outer) =>
        pointer.StartsWith(outer, StringComparison.Ordinal) && (pointer.Length == outer.Length || pointer[outer.Length] == '/');
}
