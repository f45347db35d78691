using Marten;

namespace SetWeek.Service.Following;

/// <summary>Runs all followers on this node, or waits to take one over.</summary>
public sealed class Followers(
    IEnumerable<IFollower> followers, IDocumentStore store, FollowerLocks locks, TimeProvider clock, ILogger<FollowerLoop> log)
    : BackgroundService
{
    protected override Task ExecuteAsync(CancellationToken stopping) => Task.WhenAll(
        followers.Select(follower =>
            Task.Run(() => new FollowerLoop(follower, store, locks, clock, log).Run(stopping), stopping)));
}
