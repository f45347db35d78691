using System.Globalization;
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
    /// <summary>Whether the form has several reports of which others are recorded.</summary>
    public bool IsInPart { get; init; }

    /// <summary>
    /// Of a list, its rows with an empty field of the first kind are left out of the body, unless they have a number of the second.
    /// </summary>
    private const string RowKind = ":row", RowNumberKind = ":row-number";

    /// <summary>Whether it is of the form of the page that has that id. An older page names no form.</summary>
    public bool IsOf(string action, string form) =>
        Action == action && (!Typed.TryGetValue(FormFields.Form, out var sent) || sent[0] == form);

    /// <summary>The faults of a field, and of what lies in it.</summary>
    public IEnumerable<Fault> FaultsOf(string field) => PointerOf(field) is not { } at ? []
        : Faults.Where(fault => fault.Pointer == at || fault.Pointer.StartsWith($"{at}/", StringComparison.Ordinal));

    /// <summary>The faults that stand beside no field: those of the whole body, and of what the form only passes on.</summary>
    public IEnumerable<Fault> OtherFaults
    {
        get
        {
            var beside = Typed.Keys.Where(name => !name.EndsWith(":json", StringComparison.Ordinal)).SelectMany(FaultsOf).ToHashSet();
            return Faults.Where(fault => !beside.Contains(fault));
        }
    }

    /// <summary>
    /// Where the body has a field: "bans[2].from" is /bans/1/from if the row 0 or 1 was left out. Null for a field of the request,
    /// and of a row that was left out.
    /// </summary>
    private string? PointerOf(string field)
    {
        if (field.StartsWith(':')) return null;
        var (pointer, above) = ("", "");
        foreach (var level in NameOf(field).Split('.'))
        {
            var bracket = level.IndexOf('[', StringComparison.Ordinal);
            if (bracket < 0 || !level.EndsWith(']'))
                pointer += "/" + Uri.UnescapeDataString(level).Replace("~", "~0", StringComparison.Ordinal)
                    .Replace("/", "~1", StringComparison.Ordinal);
            else if (IsLeftOut(above + level)) return null;
            else
            {
                var (list, row) = (above + level[..bracket], level[(bracket + 1)..^1]);
                pointer += string.Create(CultureInfo.InvariantCulture, $"/{level[..bracket]}/{RowsBefore(list, row)}");
            }
            above += level + ".";
        }
        return pointer;
    }

    /// <summary>How many rows of a list stand before one, those that were left out not counted.</summary>
    private int RowsBefore(string list, string row) => Typed
        .Where(typed => typed.Value.Any(value => value != "")).Select(typed => NameOf(typed.Key))
        .Where(name => name.StartsWith($"{list}[", StringComparison.Ordinal))
        .Select(name => name[(list.Length + 1)..name.IndexOf(']', list.Length)]).Distinct()
        .Count(other => int.TryParse(other, out var number) && int.TryParse(row, out var own) && number < own
            && !IsLeftOut($"{list}[{other}]"));

    private bool IsLeftOut(string row) => HasIn(row, RowKind, isEmpty: true) && !HasIn(row, RowNumberKind, isEmpty: false);

    private bool HasIn(string row, string kind, bool isEmpty) => Typed.Any(typed =>
        typed.Key.StartsWith($"{row}.", StringComparison.Ordinal) && typed.Key.LastIndexOf('.') == row.Length
        && typed.Key.EndsWith(kind, StringComparison.Ordinal) && typed.Value[0] == "" == isEmpty);

    private static string NameOf(string field) => field.Split(':')[0];
}

/// <summary>What the fields of one form share.</summary>
/// <param name="Id">With it begin the ids of the fields, so that two forms of a page may have fields of the same name.</param>
/// <param name="Refusal">Null unless this form was refused.</param>
public sealed record FormScope(string Id, FormRefusal? Refusal)
{
    /// <summary>The id of a form that is the only one of its page with that address.</summary>
    public const string Only = "form";

    public string IdOf(string field) => $"{Id}-{field.Replace('.', '-').Replace(':', '-').Replace('[', '-').Replace(']', '-')}";

    /// <summary>
    /// What a field would say by now, if the form came from an older page and says something else; null otherwise. Somebody else
    /// may have changed it since.
    /// </summary>
    public string? SinceOf(string field, string? value) =>
        Refusal is { Status: StatusCodes.Status412PreconditionFailed } && ValueOf(field, value) != (value ?? "")
            ? value ?? "" : null;

    /// <summary>What was typed; otherwise the present value.</summary>
    public string ValueOf(string field, string? value) =>
        Refusal is not null && Refusal.Typed.TryGetValue(field, out var typed) ? typed[0] : value ?? "";

    /// <summary>Whether one of several values was chosen; otherwise whether it is at first.</summary>
    public bool IsChosen(string field, string value, bool isAtFirst) =>
        Refusal is null ? isAtFirst : Refusal.Typed.TryGetValue(field, out var typed) && typed.Contains(value);

    /// <summary>The faults of a field that was sent. Those of others stand before the form.</summary>
    public IReadOnlyList<string> FaultsOf(string field) => Refusal?.Typed.ContainsKey(field) != true ? []
        : [.. Refusal.FaultsOf(field).Select(fault => fault.Detail).Distinct()];
}
