namespace SetWeek.Service.Pages.Fields;

/// <summary>The page of a form, which shows it again if it is refused.</summary>
/// <param name="Address">Its address, with the query.</param>
/// <param name="Refusal">The form of the page that was refused just now; null if none was.</param>
public sealed record FormPage(string Address, FormRefusal? Refusal)
{
    /// <summary>Whether the form was refused just now, so that it must stand open.</summary>
    /// <param name="form">The id of the form, for pages with several that are sent to one address.</param>
    public bool HasRefused(string action, string form) => Refusal?.IsOf(action, form) == true;
}
