using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Photos;

/// <summary>Sends a photograph of the small week as a phone does.</summary>
internal static class PhotoUpload
{
    public const string PhotosOfWeek = $"{FirstRain.Address}/photos";

    public static Task<ApiResponse> Upload(ApiClient client, string id, byte[] file) =>
        client.Send(HttpMethod.Post, PhotosOfWeek, Form(id, file));

    public static MultipartFormDataContent Form(string id, byte[] file)
    {
        var form = new MultipartFormDataContent { { new StringContent(id), "photoId" } };
        AddFile(form, "photo", file, "photo.bin");
        return form;
    }

    public static void AddFile(MultipartFormDataContent form, string field, byte[] file, string name)
    {
        var content = new ByteArrayContent(file);
        content.Headers.ContentDisposition = new("form-data") { Name = $"\"{field}\"", FileName = $"\"{name}\"" };
        content.Headers.ContentType = new("image/jpeg");
        form.Add(content);
    }
}
