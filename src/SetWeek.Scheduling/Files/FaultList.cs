using System.Text.Json;

namespace SetWeek.Scheduling.Files;

/// <summary>Faults as they are found; handed over in the order of the file.</summary>
internal sealed class FaultList
{
    /// <summary>A file of megabytes of nonsense must not become an answer of gigabytes.</summary>
    private const int Most = 1000;

    private readonly HashSet<Fault> seen = [];
    private readonly List<Fault> all = [];
    private bool more;

    public bool Any => all.Count > 0;

    public void Add(Fault fault)
    {
        if (!seen.Add(fault)) return;
        if (all.Count < Most) all.Add(fault);
        else more = true;
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
