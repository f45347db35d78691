using System.Net.Http.Headers;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using SetWeek.Service.Access;

namespace SetWeek.Service.Tests.Http;

/// <summary>Bodies that the service does not read, over real connections.</summary>
public sealed class UnreadBodyTests
{
    private const int Large = 30 * 1024 * 1024;

    /// <summary>Without a token, with one that does not suffice, with a body beyond the limit, and at no address.</summary>
    [Theory]
    [InlineData("/stores", null, 401)]
    [InlineData("/stores", Role.Crew, 403)]
    [InlineData("/stores", Role.HeadOffice, 413)]
    [InlineData("/no-such-thing", Role.HeadOffice, 404)]
    public async Task A_large_body_that_is_not_read_gets_its_answer(string path, Role? role, int status)
    {
        foreach (var isChunked in (bool[])[false, true])
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new ByteArrayContent(new byte[Large]) };
            request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
            request.Headers.TransferEncodingChunked = isChunked;
            using var answer = await Send(request, role);
            Assert.Equal(status, (int)answer.StatusCode);
            Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        }
    }

    /// <summary>Kestrel alone, without a database: none of these requests gets that far.</summary>
    private static async Task<HttpResponseMessage> Send(HttpRequestMessage request, Role? role)
    {
        var keyFile = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");
        var settings = new Settings { Postgres = RunningService.Postgres, Urls = "http://127.0.0.1:0", KeyFile = keyFile };
        try
        {
            var builder = Hosting.Builder(settings);
            foreach (var hosted in builder.Services.Where(service => service.ServiceType == typeof(IHostedService)
                && service.ImplementationType?.FullName?.Contains("GenericWebHost") != true).ToList())
                builder.Services.Remove(hosted);
            await using var app = builder.Build();
            Hosting.Map(app);
            await app.StartAsync();
            var address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
            using var client = new HttpClient { BaseAddress = new Uri(address) };
            if (role is { } known)
                client.DefaultRequestHeaders.Authorization = new("Bearer", Tokens.Issue(SigningKey.ReadOrCreate(keyFile),
                    new Caller("t", "p", known, [Caller.AnyStore]), TimeProvider.System.GetUtcNow(), TimeSpan.FromMinutes(5)));
            var answer = await client.SendAsync(request);
            await answer.Content.LoadIntoBufferAsync();
            return answer;
        }
        finally
        {
            File.Delete(keyFile);
        }
    }
}
