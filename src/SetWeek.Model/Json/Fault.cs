namespace SetWeek.Model.Json;

/// <summary>One fault of a JSON text.</summary>
/// <param name="Pointer">Where it is, as a JSON Pointer (RFC 6901); empty for the whole text.</param>
/// <param name="Detail">What is wrong and how to correct it, in a sentence.</param>
public sealed record Fault(string Pointer, string Detail);

/// <summary>All faults of a JSON text.</summary>
/// <param name="All">The faults in the order of the text, at least one.</param>
public sealed record FaultReport(IReadOnlyList<Fault> All);
