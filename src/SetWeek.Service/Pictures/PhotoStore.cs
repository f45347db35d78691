using System.Security.Cryptography;
using Marten;
using NodaTime;
using Npgsql;
using NpgsqlTypes;

namespace SetWeek.Service.Pictures;

/// <summary>A photograph of a week without its pixels.</summary>
/// <param name="Person">The id of the person who sent it.</param>
public sealed record StoredPhoto(string Id, string Person, Instant Added, int Width, int Height)
{
    /// <summary>
    /// The size of the thumbnail on a page, in CSS pixels. Two of its own pixels are one there: screens of phones are dense. It
    /// is stated, so that nothing moves once the thumbnail is loaded.
    /// </summary>
    public int ShownWidth => Shown(Width);

    /// <inheritdoc cref="ShownWidth" />
    public int ShownHeight => Shown(Height);

    public static string AddressOf(string week, string photo) => $"/weeks/{week}/photos/{photo}";

    public static string ThumbnailOf(string week, string photo) => $"{AddressOf(week, photo)}/thumbnail";

    private int Shown(int side) =>
        Math.Max(1, (int)Math.Round(side * Math.Min(1.0, (double)Picture.LongestThumbnailSide / Math.Max(Width, Height)) / 2));
}

/// <summary>
/// The one place that reads and writes photographs. They lie in the database with everything else, so that a backup has them and
/// a chain sees its own alone.
/// </summary>
public static class PhotoStore
{
    public static byte[] HashOf(ReadOnlyMemory<byte> file) => SHA256.HashData(file.Span);

    /// <summary>The hash of the file that was sent under an id; null if none was. That of an erased photograph is kept.</summary>
    public static async Task<byte[]?> SentHash(IQuerySession session, string week, string photo, CancellationToken cancelled)
    {
        await using var read = Command(session, week,
            "select sent_hash from setweek.photo where tenant_id = @tenant and week = @week "
            + "and id = @photo");
        read.Parameters.AddWithValue("photo", photo);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        return await rows.ReadAsync(cancelled) ? rows.GetFieldValue<byte[]>(0) : null;
    }

    /// <summary>Stores a photograph. An id that is used already changes nothing.</summary>
    /// <returns>Whether the id has this file.</returns>
    public static async Task<bool> Add(
        IDocumentSession session, string week, StoredPhoto photo, Picture picture, byte[] sentHash, CancellationToken cancelled)
    {
        await using var insert = Command(session, week, """
            insert into setweek.photo (tenant_id, week, id, sent_hash, person, added, width, height, content, thumbnail)
            values (@tenant, @week, @photo, @hash, @person, @added, @width, @height, @content, @thumbnail)
            on conflict (tenant_id, week, id) do nothing
            """);
        insert.Parameters.AddWithValue("photo", photo.Id);
        insert.Parameters.AddWithValue("hash", sentHash);
        insert.Parameters.AddWithValue("person", photo.Person);
        insert.Parameters.AddWithValue("added", photo.Added.ToDateTimeOffset());
        insert.Parameters.AddWithValue("width", picture.Width);
        insert.Parameters.AddWithValue("height", picture.Height);
        insert.Parameters.AddWithValue("content", picture.Content);
        insert.Parameters.AddWithValue("thumbnail", picture.Thumbnail);
        await session.ExecuteAsync(insert, cancelled);
        return (await SentHash(session, week, photo.Id, cancelled))?.SequenceEqual(sentHash) ?? false;
    }

    /// <returns>JPEG; null if the week has no such photograph, or it is erased.</returns>
    public static async Task<byte[]?> Read(
        IQuerySession session, string week, string photo, bool thumbnail, CancellationToken cancelled)
    {
        await using var read = Command(session, week, $"""
            select {(thumbnail ? "thumbnail" : "content")} from setweek.photo
            where tenant_id = @tenant and week = @week and id = @photo and content is not null
            """);
        read.Parameters.AddWithValue("photo", photo);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        return await rows.ReadAsync(cancelled) ? rows.GetFieldValue<byte[]>(0) : null;
    }

    /// <summary>The photographs of a week that are not erased, in the order of their arrival.</summary>
    public static async Task<IReadOnlyList<StoredPhoto>> List(IQuerySession session, string week, CancellationToken cancelled)
    {
        await using var read = Command(session, week, """
            select id, person, added, width, height from setweek.photo
            where tenant_id = @tenant and week = @week and content is not null order by added, id
            """);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var photos = new List<StoredPhoto>();
        while (await rows.ReadAsync(cancelled))
            photos.Add(new StoredPhoto(rows.GetString(0), rows.GetString(1),
                Instant.FromDateTimeOffset(rows.GetFieldValue<DateTimeOffset>(2)), rows.GetInt32(3), rows.GetInt32(4)));
        return photos;
    }

    /// <summary>Erases the pixels with the next commit. The id stays used.</summary>
    public static void Erase(IDocumentSession session, string week, string photo) => session.QueueSqlCommand(
        "update setweek.photo set content = null, thumbnail = null where tenant_id = ? and week = ? and id = ?",
        session.TenantId, week, photo);

    private static NpgsqlCommand Command(IQuerySession session, string week, string sql)
    {
        var command = new NpgsqlCommand(sql);
        command.Parameters.AddWithValue("tenant", NpgsqlDbType.Text, session.TenantId);
        command.Parameters.AddWithValue("week", NpgsqlDbType.Text, week);
        return command;
    }
}
