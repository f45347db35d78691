using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Idempotency;

namespace SetWeek.Service.Tests.Http.Idempotency;

[Collection(ServiceCollection.Name)]
public sealed class SafeRepeatTests(RunningService service)
{
    private static readonly (string, string) Key = (IdempotencyKey.Header, "open-1");

    [Fact]
    public async Task A_repeated_key_gets_the_first_response_without_a_second_effect()
    {
        var head = service.NewChain().HeadOffice;
        var first = await head.Post("/stores", Samples.Store(), Key);
        var again = await head.Post("/stores", Samples.Store(), Key);
        Assert.Equal(201, first.Status);
        Assert.Equal(first, again);
        Assert.Single((await head.Get("/feed")).Json.AsArray());
    }

    [Fact]
    public async Task The_same_key_with_another_body_is_422()
    {
        var head = service.NewChain().HeadOffice;
        await head.Post("/stores", Samples.Store(), Key);
        var other = await head.Post("/stores", Samples.Store("mill-lane"), Key);
        Assert.Equal((422, "key-reused"), (other.Status, other.Code));
        Assert.Equal(404, (await head.Get("/stores/mill-lane")).Status);
    }

    [Fact]
    public async Task A_key_belongs_to_one_person()
    {
        var chain = service.NewChain();
        await chain.As("ada", Role.HeadOffice).Post("/stores", Samples.Store(), Key);
        Assert.Equal(201, (await chain.As("bo", Role.HeadOffice).Post("/stores", Samples.Store("mill-lane"), Key)).Status);
    }

    /// <summary>Routing ignores case and a slash at the end, so these are one address.</summary>
    [Theory]
    [InlineData("/Stores")]
    [InlineData("/stores/")]
    public async Task A_key_is_recognized_however_the_address_is_written(string address)
    {
        var head = service.NewChain().HeadOffice;
        var first = await head.Post("/stores", Samples.Store(), Key);
        Assert.Equal(first, await head.Post(address, Samples.Store(), Key));
    }

    [Fact]
    public async Task A_key_gives_no_answer_about_a_store_that_the_token_does_not_reach_any_more()
    {
        var chain = service.NewChain();
        Assert.Equal(201, (await chain.As("ada", Role.HeadOffice, "harbour-street").Post("/stores", Samples.Store(), Key)).Status);
        var narrowed = await chain.As("ada", Role.HeadOffice, "mill-lane").Post("/stores", Samples.Store(), Key);
        Assert.Equal((403, "other-store"), (narrowed.Status, narrowed.Code));
    }

    [Fact]
    public async Task A_refused_request_does_not_use_up_its_key()
    {
        var head = service.NewChain().HeadOffice;
        await head.Post("/stores", Samples.Store());
        Assert.Equal(409, (await head.Post("/stores", Samples.Store(), Key)).Status);
        Assert.Equal(201, (await head.Post("/stores", Samples.Store("mill-lane"), Key)).Status);
    }

    [Fact]
    public async Task Concurrent_requests_with_one_key_have_one_effect()
    {
        var chain = service.NewChain();
        var answers = await Task.WhenAll(
            Enumerable.Range(0, 12).Select(_ => chain.HeadOffice.Post("/stores", Samples.Store(), Key)));
        Assert.All(answers, answer => Assert.Equal(answers[0], answer));
        Assert.Equal(201, answers[0].Status);
        Assert.Single((await chain.HeadOffice.Get("/feed")).Json.AsArray());
    }

    [Theory]
    [InlineData("two words")]
    [InlineData("ключ")]
    public async Task An_invalid_key_is_400(string key) =>
        Assert.Equal(400,
            (await service.NewChain().HeadOffice.Post("/stores", Samples.Store(), (IdempotencyKey.Header, key))).Status);

    [Fact]
    public async Task A_key_expires_after_fourteen_days()
    {
        var chain = service.NewChain();
        await chain.HeadOffice.Post("/stores", Samples.Store(), Key);
        var database = service.Host.Services.GetRequiredService<NpgsqlDataSource>();
        await using (var makeOlder = database
            .CreateCommand($"update setweek.remembered set at = at - interval '15 days' where tenant_id = '{chain.Tenant}'"))
            Assert.Equal(1, await makeOlder.ExecuteNonQueryAsync());

        // An expired record is ignored before it is deleted.
        Assert.Equal(201, (await chain.HeadOffice.Post("/stores", Samples.Store("mill-lane"), Key)).Status);
        await using (var makeOlder = database
            .CreateCommand($"update setweek.remembered set at = at - interval '15 days' where tenant_id = '{chain.Tenant}'"))
            await makeOlder.ExecuteNonQueryAsync();
        await IdempotencyCleanUp.DeleteExpired(database, TimeProvider.System.GetUtcNow(), CancellationToken.None);
        await using var remaining = database
            .CreateCommand($"select count(*) from setweek.remembered where tenant_id = '{chain.Tenant}'");
        Assert.Equal(0L, await remaining.ExecuteScalarAsync());
    }
}
