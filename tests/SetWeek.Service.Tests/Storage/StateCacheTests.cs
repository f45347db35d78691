using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Storage;

public sealed class StateCacheTests
{
    [Fact]
    public void The_least_recently_used_stream_is_dropped_first()
    {
        var cache = new StateCache(2);
        cache.Keep("t", Stream("a", 1));
        cache.Keep("t", Stream("b", 1));
        Assert.NotNull(cache.Find<string>("t", "a")); // now b is the one used longest ago
        cache.Keep("t", Stream("c", 1));
        Assert.Equal((true, false, true), (Kept(cache, "a"), Kept(cache, "b"), Kept(cache, "c")));
        Assert.Equal(2, cache.Count);
    }

    [Fact]
    public void An_older_version_never_replaces_a_newer_one()
    {
        var cache = new StateCache(2);
        cache.Keep("t", Stream("a", 5));
        cache.Keep("t", Stream("a", 4));
        Assert.Equal("a5", cache.Find<string>("t", "a")!.State);
        cache.Keep("t", Stream("a", 6));
        Assert.Equal("a6", cache.Find<string>("t", "a")!.State);
        Assert.Equal(1, cache.Count);
    }

    [Fact]
    public void Tenants_do_not_see_each_other()
    {
        var cache = new StateCache(10);
        cache.Keep("one", Stream("a", 1));
        Assert.Null(cache.Find<string>("two", "a"));
    }

    [Fact]
    public async Task Concurrent_use_keeps_the_bound_and_the_newest_version()
    {
        var cache = new StateCache(8);
        await Task.WhenAll(Enumerable.Range(0, 8).Select(worker => Task.Run(() =>
        {
            for (var version = 1; version <= 2000; version++)
            {
                var id = $"s{(version * 7 + worker) % 12}";
                cache.Keep("t", Stream(id, version));
                // Perhaps the version of another worker, but whole.
                if (cache.Find<string>("t", id) is { } found) Assert.Equal(Stream(id, found.Version), found);
                cache.Keep("t", Stream("hot", version));
                cache.Find<string>("t", "hot");
            }
        })));
        Assert.True(cache.Count <= 8, $"{cache.Count}");
        Assert.Equal(2000, cache.Find<string>("t", "hot")!.Version);
    }

    private static bool Kept(StateCache cache, string id) => cache.Find<string>("t", id) is not null;

    private static FoldedStream<string> Stream(string id, long version) => new(id, $"{id}{version}", version);
}
