using SetWeek.Model.Json;

namespace SetWeek.Service.Pages.Fields;

/// <summary>
/// A form that was refused, for the page that shows it again: what was typed stands in its fields, and each fault beside its field.
/// </summary>
/// <param name="Action">Where the form was sent, with its query.</param>
/// <param name="Status">The status of the refusal, which the page is sent with.</param>
/// <param name="Sentence">What was wrong and what to do.</param>
/// <param name="Because">The reasons, a sentence each.</param>
/// <param name="Faults">The faults of the body, with JSON Pointers.</param>
/// <param name="Typed">The values of the fields, by name; more than one for a list.</param>
public sealed record FormRefusal(
    string Action, int Status, string Sentence, IReadOnlyList<string> Because, IReadOnlyList<Fault> Faults,
    IReadOnlyDictionary<string, IReadOnlyList<string>> Typed)
{
    /// <summary>Where the body has each field. Null for a form without a body: the names of its fields are those of the faults.</summary>
    public IReadOnlyDictionary<string, string>? Pointers { get; init; }

    /// <summary>Whether the form has several reports of which others are recorded.</summary>
    public bool IsInPart { get; init; }

    /// <summary>Whether it came with a photograph, which a page cannot put into its field again.</summary>
    public bool HasPhoto { get; init; }

    /// <summary>Whether it is of the form of the page that has that id. An older page names no form.</summary>
    public bool IsOf(string action, string form) =>
        Action == action && (!Typed.TryGetValue(FormFields.Form, out var sent) || sent[0] == form);

    /// <summary>The faults of a field, and of what lies in it.</summary>
    public IEnumerable<Fault> FaultsOf(string field) =>
        Faults.Count == 0 || (Pointers is null ? $"/{field}" : Pointers.GetValueOrDefault(field)) is not { } at ? []
            : Faults.Where(fault => fault.Pointer == at || fault.Pointer.StartsWith($"{at}/", StringComparison.Ordinal));
}
