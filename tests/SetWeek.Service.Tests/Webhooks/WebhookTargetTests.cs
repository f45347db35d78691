using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Webhooks;

namespace SetWeek.Service.Tests.Webhooks;

public sealed class WebhookTargetTests
{
    private static readonly WebhookOptions Options = new([TimeSpan.FromSeconds(5), TimeSpan.FromMinutes(5)])
    {
        AnswerTime = TimeSpan.FromSeconds(2),
    };

    /// <summary>
    /// The published test vector of Standard Webhooks: the same secret, message and signature are in the tests of its reference
    /// libraries.
    /// </summary>
    [Fact]
    public void The_published_test_vector_is_signed_as_published()
    {
        var headers = WebhookSecret.Headers("msg_p5jXN8AQM9LWM0D4loKWxJek", DateTimeOffset.FromUnixTimeSeconds(1614265330),
            """{"test": 2432232314}""", ["whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"]);
        Assert.Equal(
            [
                ("webhook-id", "msg_p5jXN8AQM9LWM0D4loKWxJek"), ("webhook-timestamp", "1614265330"),
                ("webhook-signature", "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE="),
            ], headers);
    }

    /// <summary>Standard Webhooks 1.0.0, "Signature scheme": base64 after whsec_, of 24 to 64 bytes.</summary>
    [Fact]
    public void A_secret_has_the_form_of_the_specification_and_is_new_each_time()
    {
        var secret = WebhookSecret.New();
        Assert.StartsWith("whsec_", secret);
        Assert.InRange(Convert.FromBase64String(secret["whsec_".Length..]).Length, 24, 64);
        Assert.NotEqual(secret, WebhookSecret.New());
    }

    [Fact]
    public void Attempts_are_spread_by_up_to_a_tenth_and_end_after_the_last_wait()
    {
        var waits = Enumerable.Range(0, 200).Select(n => Options.WaitAfter(2, $"board {n}")!.Value.TotalSeconds).ToList();
        Assert.InRange(waits.Min(), 300, 310);
        Assert.InRange(waits.Max(), 320, 330);
        Assert.Equal(Options.WaitAfter(1, "board 1"), Options.WaitAfter(1, "board 1"));
        Assert.Null(Options.WaitAfter(3, "board 1"));
    }

    /// <summary>IANA special-purpose address registries for IPv4 and IPv6: not globally reachable; and multicast.</summary>
    [Theory]
    [InlineData("0.0.0.0"), InlineData("10.0.0.1"), InlineData("100.64.0.1"), InlineData("127.0.0.1"),
        InlineData("169.254.169.254"), InlineData("172.31.255.255"), InlineData("192.168.1.1"), InlineData("192.0.0.8"),
        InlineData("192.0.2.1"), InlineData("198.18.0.1"), InlineData("198.51.100.1"), InlineData("203.0.113.1"),
        InlineData("224.0.0.1"), InlineData("240.0.0.1"), InlineData("255.255.255.255"), InlineData("::"), InlineData("::1"),
        InlineData("::ffff:10.0.0.1"), InlineData("64:ff9b::a00:1"), InlineData("100::1"), InlineData("2001::1"),
        InlineData("2001:db8::1"), InlineData("2002:a00:1::"), InlineData("fc00::1"), InlineData("fd12::1"),
        InlineData("fe80::1"),
        InlineData("ff02::1"), InlineData("3fff::1")]
    public void An_address_that_is_not_public_is_refused(string address) =>
        Assert.False(new OutboundRules(AllowLoopback: false).Allows(IPAddress.Parse(address)));

    [Theory]
    [InlineData("45.0.0.1"), InlineData("172.32.0.1"), InlineData("100.128.0.1"), InlineData("192.169.0.1"),
        InlineData("223.255.255.254"), InlineData("2a00::1"), InlineData("2600::1"), InlineData("::ffff:45.0.0.1")]
    public void A_public_address_is_allowed(string address) =>
        Assert.True(new OutboundRules(AllowLoopback: false).Allows(IPAddress.Parse(address)));

    [Fact]
    public void Loopback_is_allowed_only_where_it_is_set()
    {
        Assert.NotNull(new OutboundRules(false).FaultOf("http://127.0.0.1:5000/"));
        Assert.NotNull(new OutboundRules(false).FaultOf("https://localhost/"));
        Assert.Null(new OutboundRules(true).FaultOf("http://127.0.0.1:5000/"));
        Assert.NotNull(new OutboundRules(true).FaultOf("https://10.0.0.1/"));
    }

    [Fact]
    public async Task A_name_that_leads_to_a_private_address_is_not_called()
    {
        var asked = 0;
        using var target = Target((_, _) =>
        {
            asked++;
            return Task.FromResult<IPAddress[]>([IPAddress.Parse("45.0.0.1"), IPAddress.Parse("10.0.0.1")]);
        });
        Assert.Equal("Its name leads to an address that is not public.",
            await target.Send("https://board.quillmere.example/", "{}", [], CancellationToken.None));
        Assert.Equal(1, asked);
    }

    /// <summary>DNS rebinding: the name is checked for each connection, and the checked address is the one that is used.</summary>
    [Fact]
    public async Task A_name_that_leads_elsewhere_later_is_not_called_again()
    {
        await using var receiver = await WebhookReceiver.Start();
        var answers = new Queue<string>(["127.0.0.1", "10.0.0.1"]);
        using var target = Target((_, _) => Task.FromResult<IPAddress[]>([IPAddress.Parse(answers.Dequeue())]));
        var url = $"http://localhost:{receiver.Port}/";
        Assert.Null(await target.Send(url, "{}", [], CancellationToken.None));
        Assert.Equal("Its name leads to an address that is not public.",
            await target.Send(url, "{}", [], CancellationToken.None));
        Assert.Single(receiver.All);
    }

    [Fact]
    public async Task A_redirect_is_a_failure_and_is_not_followed()
    {
        await using var receiver = await WebhookReceiver.Start();
        receiver.Answer = _ => 307;
        using var target = Target(Dns.GetHostAddressesAsync);
        Assert.Equal("It redirects (307). Change the URL.", await target.Send(receiver.Url, "{}", [], CancellationToken.None));
        Assert.Equal("/", Assert.Single(receiver.All).Path);
    }

    [Fact]
    public async Task A_target_that_does_not_answer_in_time_or_at_all_is_a_failure()
    {
        await using var receiver = await WebhookReceiver.Start();
        using var released = new ManualResetEventSlim();
        receiver.Answer = _ =>
        {
            released.Wait();
            return 204;
        };
        using var target = Target(Dns.GetHostAddressesAsync);
        Assert.Equal("It did not answer within 2 s.", await target.Send(receiver.Url, "{}", [], CancellationToken.None));
        released.Set();
        Assert.Equal("No connection could be made, or it broke.",
            await target.Send("http://127.0.0.1:1/", "{}", [], CancellationToken.None));
    }

    private static WebhookTarget Target(Func<string, CancellationToken, Task<IPAddress[]>> resolve) =>
        new(new OutboundRules(AllowLoopback: true), Options, resolve);
}
