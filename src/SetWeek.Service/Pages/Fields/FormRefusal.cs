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
    /// Where the body has a field: "bans[2].from" is /bans/1/from if the row 0 or 1 was left empty. Null for a field of the request.
    /// </summary>
    private string? PointerOf(string field)
    {
        if (field.StartsWith(':')) return null;
        var pointer = "";
        foreach (var level in NameOf(field).Split('.'))
        {
            var bracket = level.IndexOf('[', StringComparison.Ordinal);
            if (bracket < 0 || !level.EndsWith(']'))
            {
                pointer += "/" + Uri.UnescapeDataString(level).Replace("~", "~0", StringComparison.Ordinal)
                    .Replace("/", "~1", StringComparison.Ordinal);
                continue;
            }
            var (list, row) = (level[..bracket], level[(bracket + 1)..^1]);
            var before = Typed.Where(typed => typed.Value.Any(value => value != "") && !IsLeftOut(typed.Key)).Select(typed => NameOf(typed.Key))
                .Where(name => name.StartsWith($"{list}[", StringComparison.Ordinal))
                .Select(name => name[(list.Length + 1)..name.IndexOf(']', StringComparison.Ordinal)]).Distinct()
                .Count(other => int.TryParse(other, out var number) && int.TryParse(row, out var own) && number < own);
            pointer += string.Create(System.Globalization.CultureInfo.InvariantCulture, $"/{list}/{before}");
        }
        return pointer;
    }

    /// <summary>Whether the field is of a row that is left out, because its field of the kind "row" is empty.</summary>
    private bool IsLeftOut(string field) => Typed.Any(typed => typed.Key.EndsWith(":row", StringComparison.Ordinal)
        && typed.Value[0] == "" && typed.Key.LastIndexOf('.') is > 0 and var end
        && field.StartsWith(typed.Key[..(end + 1)], StringComparison.Ordinal));

    private static string NameOf(string field) => field.Split(':')[0];
}

/// <summary>What the fields of one form share.</summary>
/// <param name="Id">With it begin the ids of the fields, so that two forms of a page may have fields of the same name.</param>
/// <param name="Refusal">Null unless this form was refused.</param>
public sealed record FormScope(string Id, FormRefusal? Refusal)
{
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

    public IReadOnlyList<string> FaultsOf(string field) =>
        [.. (Refusal?.FaultsOf(field) ?? []).Select(fault => fault.Detail).Distinct()];
}
