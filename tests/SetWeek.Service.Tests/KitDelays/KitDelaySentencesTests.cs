using SetWeek.Domain.Kits;
using SetWeek.Service.KitDelays;

namespace SetWeek.Service.Tests.KitDelays;

/// <summary>How far a late kit is, in words that do not contradict each other.</summary>
public sealed class KitDelaySentencesTests
{
    private const string Searching = "The weeks that wait for it are still being looked for.", Three = "It concerns 3 stores.",
        Nothing = "Nothing is awaited any more.";

    [Fact]
    public void Nothing_is_awaited_any_more_once_all_weeks_are_found_and_settled()
    {
        Assert.Equal([Three, Nothing], Progress((KitDelayState.Planned, 3)));
        Assert.Equal([Three, "For 2 stores a plan is still awaited."],
            Progress((KitDelayState.Waiting, 1), (KitDelayState.Planning, 1), (KitDelayState.Published, 1)));
    }

    [Fact]
    public void While_weeks_are_looked_for_it_is_not_said_that_nothing_is_awaited()
    {
        Assert.Equal([Searching], Progress(isSearching: true));
        Assert.Equal([Searching, Three], Progress(isSearching: true, (KitDelayState.Planned, 3)));
        Assert.Equal([Searching, Three, "For 1 store a plan is still awaited."],
            Progress(isSearching: true, (KitDelayState.Planned, 2), (KitDelayState.Planning, 1)));
    }

    private static IEnumerable<string> Progress(params (KitDelayState State, int Weeks)[] states) => Progress(false, states);

    private static IEnumerable<string> Progress(bool isSearching, params (KitDelayState State, int Weeks)[] states) =>
        KitDelaySentences.Progress(ReadKitDelay.Sums.Of(states.ToDictionary(state => state.State, state => state.Weeks), 0, 0, 0, []),
            isCancelled: false, isSearching, reason: null);
}
