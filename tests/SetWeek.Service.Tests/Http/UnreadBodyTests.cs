using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using SetWeek.Service.Access;

namespace SetWeek.Service.Tests.Http;

/// <summary>
/// Bodies that the service does not read, over a real connection. The caller sends the whole body before it reads the answer, as
/// simple clients do.
/// </summary>
public sealed class UnreadBodyTests
{
    private const int Large = 30 * 1024 * 1024;

    /// <summary>Without a token, with a role that does not suffice, at no address, and with a body beyond the limit.</summary>
    [Theory]
    [InlineData("/stores", null, 401)]
    [InlineData("/stores", Role.Crew, 403)]
    [InlineData("/no-such-thing", Role.HeadOffice, 404)]
    [InlineData("/stores", Role.HeadOffice, 413)]
    public async Task A_large_body_that_is_not_read_gets_its_answer(string path, Role? role, int status)
    {
        var keyFile = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");
        try
        {
            await using var app = Start(keyFile);
            await app.StartAsync();
            var address = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
            var token = role is { } known ? "Authorization: Bearer " + Tokens.Issue(SigningKey.ReadOrCreate(keyFile),
                new Caller("t", "p", known, [Caller.AnyStore]), TimeProvider.System.GetUtcNow(), TimeSpan.FromMinutes(5)) + "\r\n" : "";
            foreach (var isChunked in (bool[])[false, true])
                Assert.StartsWith($"HTTP/1.1 {status} ", await Exchange(address, path, token, isChunked), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(keyFile);
        }
    }

    private static async Task<string> Exchange(Uri address, string path, string token, bool isChunked)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(address.Host, address.Port);
        await using var stream = client.GetStream();
        var length = isChunked ? "Transfer-Encoding: chunked" : $"Content-Length: {Large}";
        await stream.WriteAsync(Encoding.ASCII.GetBytes(
            $"POST {path} HTTP/1.1\r\nHost: test\r\nContent-Type: application/json\r\n{token}{length}\r\n\r\n"));
        var part = new byte[64 * 1024];
        for (var sent = 0; sent < Large; sent += part.Length)
        {
            if (isChunked) await stream.WriteAsync("10000\r\n"u8.ToArray()); // 64 Ki in hexadecimal
            await stream.WriteAsync(part);
            if (isChunked) await stream.WriteAsync("\r\n"u8.ToArray());
        }
        if (isChunked) await stream.WriteAsync("0\r\n\r\n"u8.ToArray());
        var read = await stream.ReadAsync(part);
        return Encoding.ASCII.GetString(part, 0, read);
    }

    /// <summary>Kestrel without the services that need a database: none of these requests gets that far.</summary>
    private static Microsoft.AspNetCore.Builder.WebApplication Start(string keyFile)
    {
        var builder = Hosting.Builder(
            new Settings { Postgres = RunningService.Postgres, Urls = "http://127.0.0.1:0", KeyFile = keyFile });
        foreach (var hosted in builder.Services.Where(service => service.ServiceType == typeof(IHostedService)
            && service.ImplementationType?.Name != "GenericWebHostService").ToList())
            builder.Services.Remove(hosted);
        var app = builder.Build();
        Hosting.Map(app);
        return app;
    }
}
