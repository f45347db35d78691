namespace SetWeek.Service.Http.Forms;

/// <summary>The photograph of a form. A form has at most one.</summary>
/// <param name="Id">The id that the device made for it; null if the form has none.</param>
/// <param name="Content">The file as it was sent.</param>
public sealed record FormPhoto(string? Id, ReadOnlyMemory<byte> Content)
{
    /// <summary>The fields of an upload by a program: the file, and the id of the photograph.</summary>
    public const string UploadField = "photo", UploadId = "photoId";

    /// <summary>How the name of a file field of a page ends; its id is in <see cref="Pages.FormFields.Photo"/>.</summary>
    public const string Kind = ":photo";

    /// <summary>Whether a page sent it, together with what names it.</summary>
    public bool IsOfPage { get; init; }
}
