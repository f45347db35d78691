using SetWeek.Model.Json;

namespace SetWeek.Service.Pages.Fields;

/// <summary>What the fields of one form share, and what they say of themselves while they are rendered.</summary>
/// <param name="id">With it begin the ids of the fields, so that two forms of a page may have fields of the same name.</param>
/// <param name="refusal">Null unless this form was refused.</param>
public sealed class FormScope(string id, FormRefusal? refusal)
{
    /// <summary>The id of a form that is the only one of its page with that address.</summary>
    public const string Only = "form";

    private readonly HashSet<Fault> beside = [];

    public FormRefusal? Refusal => refusal;

    /// <summary>Whether the form has a field, so that something is lost if it is not shown again.</summary>
    public bool HasFields { get; private set; }

    /// <summary>Whether a field of the form is a PIN, which no page shows again.</summary>
    public bool AsksForPin { get; private set; }

    /// <summary>To be called by a field that is a PIN.</summary>
    public void AskForPin() => AsksForPin = HasFields = true;

    public string IdOf(string field) => $"{id}-{field.Replace('.', '-').Replace(':', '-').Replace('[', '-').Replace(']', '-')}";

    /// <summary>
    /// What a field would say by now, if the form came from an older page and says something else; null otherwise. Somebody else
    /// may have changed it since.
    /// </summary>
    public string? SinceOf(string field, string? value) =>
        refusal is { Status: StatusCodes.Status412PreconditionFailed } && ValueOf(field, value) != (value ?? "")
            ? value ?? "" : null;

    /// <summary>What was typed; otherwise the present value.</summary>
    public string ValueOf(string field, string? value)
    {
        HasFields = true;
        return refusal is not null && refusal.Typed.TryGetValue(field, out var typed) ? typed[0] : value ?? "";
    }

    /// <summary>Whether one of several values was chosen; otherwise whether it is at first.</summary>
    public bool IsChosen(string field, string value, bool isAtFirst)
    {
        HasFields = true;
        return refusal is null ? isAtFirst : refusal.Typed.TryGetValue(field, out var typed) && typed.Contains(value);
    }

    /// <summary>The faults that the caller shows beside a field that was sent.</summary>
    public IReadOnlyList<string> FaultsBeside(string field)
    {
        if (refusal?.Typed.ContainsKey(field) != true) return [];
        IReadOnlyList<Fault> faults = [.. refusal.FaultsOf(field)];
        beside.UnionWith(faults);
        return [.. faults.Select(fault => fault.Detail).Distinct()];
    }

    /// <summary>
    /// The faults that no field shows: those of the whole body, of fields that were not sent, and of what the form only passes
    /// on. Known once the fields are rendered.
    /// </summary>
    public IReadOnlyList<Fault> OtherFaults => [.. (refusal?.Faults ?? []).Where(fault => !beside.Contains(fault))];
}
