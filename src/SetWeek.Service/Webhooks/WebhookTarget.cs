using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using SetWeek.Service.Access;
using SetWeek.Service.Feed;

namespace SetWeek.Service.Webhooks;

/// <summary>
/// Sends deliveries. Each connection resolves the host, checks every address found, and connects to those addresses: a name that
/// resolves to something else later gains nothing. Redirects, proxies and cookies are not used.
/// </summary>
public sealed class WebhookTarget : IDisposable
{
    private readonly HttpClient client;
    private readonly OutboundRules rules;
    private readonly Func<string, CancellationToken, Task<IPAddress[]>> resolve;

    /// <param name="resolve">Resolves a host name.</param>
    public WebhookTarget(
        OutboundRules rules, WebhookOptions options, Func<string, CancellationToken, Task<IPAddress[]>> resolve)
    {
        (this.rules, this.resolve) = (rules, resolve);
        client = new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false, UseProxy = false, UseCookies = false, ConnectCallback = Connect,
            PooledConnectionLifetime = TimeSpan.FromMinutes(2), PooledConnectionIdleTimeout = TimeSpan.FromSeconds(30),
        })
        {
            Timeout = options.AnswerTime,
        };
        client.DefaultRequestHeaders.UserAgent.Add(new ProductInfoHeaderValue("SetWeek", "1"));
    }

    /// <returns>Null if the target has accepted it, with any 2xx; otherwise what went wrong.</returns>
    public async Task<string?> Send(
        string url, string body, IEnumerable<(string Name, string Value)> headers, CancellationToken cancelled)
    {
        if (rules.FaultOf(url) is { } fault) return fault;
        using var request = new HttpRequestMessage(HttpMethod.Post, url)
        {
            Content = new StringContent(body, Encoding.UTF8, FeedEnvelope.ContentType),
        };
        foreach (var (name, value) in headers) request.Headers.TryAddWithoutValidation(name, value);
        try
        {
            using var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancelled);
            return response.IsSuccessStatusCode ? null
                : (int)response.StatusCode is >= 300 and < 400 ? $"It redirects ({(int)response.StatusCode}). Change the URL."
                : $"It answered {(int)response.StatusCode}.";
        }
        catch (OperationCanceledException) when (!cancelled.IsCancellationRequested)
        {
            return $"It did not answer within {client.Timeout.TotalSeconds} s.";
        }
        catch (HttpRequestException error)
        {
            return error.GetBaseException() is AddressRefusedException refused ? refused.Message
                : error.HttpRequestError switch
                {
                    HttpRequestError.NameResolutionError => "Its name could not be resolved.",
                    HttpRequestError.SecureConnectionError => "No secure connection could be made.",
                    _ => "No connection could be made, or it broke.",
                };
        }
    }

    public void Dispose() => client.Dispose();

    private async ValueTask<Stream> Connect(SocketsHttpConnectionContext context, CancellationToken cancelled)
    {
        var addresses = await resolve(context.DnsEndPoint.Host, cancelled);
        if (addresses.Length == 0 || !addresses.All(rules.Allows)) throw new AddressRefusedException();
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(addresses, context.DnsEndPoint.Port, cancelled);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    private sealed class AddressRefusedException() : IOException("Its name leads to an address that is not public.");
}
