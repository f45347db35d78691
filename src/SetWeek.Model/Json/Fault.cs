namespace SetWeek.Model.Json;

/// <summary>
/// One thing wrong with a file: where, as a JSON Pointer (RFC 6901), and what, in a sentence that says the cure.
/// </summary>
public sealed record Fault(string Pointer, string Detail);

/// <summary>Everything wrong with a file, in the order of the file. Never empty.</summary>
public sealed record FaultReport(IReadOnlyList<Fault> All);
