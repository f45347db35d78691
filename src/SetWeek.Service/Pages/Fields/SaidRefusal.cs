namespace SetWeek.Service.Pages.Fields;

/// <summary>
/// Whether a page says why a form was refused, known once it is rendered. It may have the form no more, as that of a kit that has
/// come meanwhile.
/// </summary>
public sealed class SaidRefusal
{
    public bool IsSaid { get; private set; }

    /// <summary>To be called by what says it, while the page is rendered.</summary>
    public void Say() => IsSaid = true;
}
