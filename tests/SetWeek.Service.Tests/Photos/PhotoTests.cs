using System.Net.Http.Headers;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Photos.PhotoUpload;
using static SetWeek.Service.Tests.Photos.TestPictures;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Photos;

/// <summary>A photograph is sent, kept, read and erased.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PhotoTests(RunningService service)
{
    [Fact]
    public async Task A_photograph_is_kept_once_under_the_id_of_its_device_and_read_by_those_of_its_week()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        var added = await ExpectStatus(201, Upload(crew, "photo-1", WithExif(Jpeg(), 6, "Maker of cameras")));
        Assert.Equal(($"{PhotosOfWeek}/photo-1", $"{PhotosOfWeek}/photo-1/thumbnail"),
            (added.Location, (string?)added.Json["thumbnail"]));
        await ExpectStatus(201, Upload(week.Lead, "photo-1", WithExif(Jpeg(), 6, "Maker of cameras")));
        var other = await Upload(crew, "photo-1", Png());
        Assert.Equal((409, "photo-id-used"), (other.Status, other.Code));

        foreach (var reader in new[] { week.Lead, crew, chain.HeadOffice, chain.As("rena", Role.Region, "harbour-street") })
        {
            var listed = Assert.Single((await ExpectStatus(200, reader.Get(PhotosOfWeek))).Json["photos"]!.AsArray())!;
            Assert.Equal((40, 80, "p1"), ((int)listed["width"]!, (int)listed["height"]!, (string?)listed["person"]));
            await ExpectStatus(200, reader.Get((string)listed["address"]!));
            await ExpectStatus(200, reader.Get((string)listed["thumbnail"]!));
        }
        Assert.Equal(403, (await chain.As("eva", Role.Engineer).Get($"{PhotosOfWeek}/photo-1")).Status);
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Get($"{PhotosOfWeek}/photo-1")).Status);
        Assert.Equal(404, (await service.NewChain().HeadOffice.Get($"{PhotosOfWeek}/photo-1")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{PhotosOfWeek}/photo-2")).Status);
    }

    [Fact]
    public async Task A_browser_keeps_a_photograph_for_good_and_takes_it_for_nothing_else()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, Upload(week.Lead, "photo-1", Png()));
        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", chain.TokenOf("lena", Role.Lead));
        using var answer = await client.GetAsync($"{PhotosOfWeek}/photo-1");
        Assert.Equal("image/jpeg", answer.Content.Headers.ContentType!.ToString());
        Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal((true, TimeSpan.FromDays(365)), (answer.Headers.CacheControl!.Private, answer.Headers.CacheControl.MaxAge));
        Assert.Equal((byte[])[0xFF, 0xD8, 0xFF], (await answer.Content.ReadAsByteArrayAsync())[..3]);
    }

    [Fact]
    public async Task A_file_that_is_no_photograph_gets_problem_details_and_nothing_is_stored()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var (what, file, code) in PictureReaderTests.Hostile.Select(row => ((string)row[0], (byte[])row[1], (string)row[2])))
        {
            var answer = await Upload(week.Lead, "photo-1", file);
            Assert.True(answer.ContentType == "application/problem+json", what);
            // A form that is too large is refused before it is read.
            Assert.Equal(code == "photo-too-large" ? (413, null) : (422, code), (answer.Status, answer.Code));
        }
        var large = await Upload(week.Lead, "photo-1", [.. Jpeg(), .. new byte[8 * 1024 * 1024]]);
        Assert.Equal((422, "photo-too-large"), (large.Status, large.Code));
        Assert.Equal(400, (await Upload(week.Lead, "Photo 1", Png())).Status);
        Assert.Equal("no-photo", (await week.Lead.Post(PhotosOfWeek, "{}")).Code);
        Assert.Equal(415, (await week.Lead.Send(HttpMethod.Post, $"{Address}/crew", Form("photo-1", Png()))).Status);
        Assert.Empty((await week.Lead.Get(PhotosOfWeek)).Json["photos"]!.AsArray());
    }

    [Fact]
    public async Task A_photograph_that_shows_somebody_is_erased_and_does_not_come_back()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, Upload(week.Lead, "photo-1", Jpeg()));
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        Assert.Equal(403, (await crew.Send(HttpMethod.Delete, $"{PhotosOfWeek}/photo-1", (string?)null)).Status);
        for (var time = 0; time < 2; time++)
            await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{PhotosOfWeek}/photo-1", (string?)null));
        await ExpectStatus(201, Upload(crew, "photo-1", Jpeg())); // a phone that got no answer
        Assert.Equal(404, (await week.Lead.Get($"{PhotosOfWeek}/photo-1")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{PhotosOfWeek}/photo-1/thumbnail")).Status);
        Assert.Equal(404, (await week.Lead.Send(HttpMethod.Delete, $"{PhotosOfWeek}/photo-2", (string?)null)).Status);
    }
}
