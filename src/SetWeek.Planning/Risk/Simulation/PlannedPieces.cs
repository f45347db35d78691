using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>The pieces of a plan in the order in which they are worked, before they are linked to one another.</summary>
internal sealed class PlannedPieces(Problem problem, Schedule schedule, Pools pools, Durations durations)
{
    private readonly int now = problem.Facts?.Now ?? -Problem.Never;
    private readonly bool[,] onShift = OnShift(problem, schedule);

    public IReadOnlyList<Piece> InOrder()
    {
        Piece[] pieces =
        [
            .. schedule.Work.Select(Of), .. AddedCleanDowns(),
            .. schedule.Shifts.Where(shift => shift.Break is not null).Select(Break),
        ];
        return [.. pieces
            .OrderBy(piece => piece.Kind != PieceKind.Begun).ThenBy(piece => piece.Kind == PieceKind.Begun ? 0 : piece.Night)
            .ThenBy(piece => piece.Last).ThenBy(piece => piece.PlannedFrom).ThenBy(piece => piece.PlannedTo)
            .ThenBy(piece => piece.Stint).ThenBy(piece => piece.Zone)];
    }

    private Piece Of(Work work)
    {
        if (work.Stint is not { } index) return CleanDown(work);
        var stint = problem.Stints[index];
        if (problem.Facts?.Begun[index] is { } begun)
            return Begun(begun, durations.OfBegun(stint, begun)) with
            {
                Task = stint.Task.Index, Stint = index, Last = stint.Task.Last,
            };
        var way = stint.Task.Ways[work.Mode];
        return new Piece
        {
            Kind = PieceKind.Stint,
            Night = work.Night,
            Task = stint.Task.Index,
            Stint = index,
            Zone = work.Zone,
            PlannedFrom = work.From,
            PlannedTo = work.To,
            People = [.. work.People.Select(hand => hand.Person)],
            Duration = durations.OfStint(stint, work.Mode),
            NotBefore = Math.Max(Math.Max(stint.Task.KitsIn, now), problem.Facts?.NotBefore[index] ?? -Problem.Never),
            Uses = pools.Of(way, work.Zone),
            Bans = [.. problem.Nights.Select(night => BansFor(stint.Task, night))],
            CleanDownAfter = CleanDownAfter(stint),
            Last = stint.Task.Last,
            StandIns = [.. problem.Nights.Select(night => StandInsFor(work, way, stint.Task, night.Index))],
        };
    }

    /// <summary>And the time before it in which the task leaves its zone closed.</summary>
    private int CleanDownAfter(Stint stint) =>
        stint.Task.Last || problem.Week.Store.Zones[stint.Task.Zone].CleanDown is not { } down ? 0
        : down.Minutes + (stint.IsLast ? stint.Task.ClosesZone : 0);

    private static IReadOnlyList<Span> BansFor(Activity task, NightWindow night) =>
        [.. night.Bans.Where(ban => task.Traits.Contains(ban.Trait)).Select(ban => ban.Span).OrderBy(span => span.From)];

    private Piece CleanDown(Work work)
    {
        // What nobody reported of a night that is over was done as planned.
        if (problem.Nights[work.Night].Closes <= now || problem.Facts?.BegunCleanDowns.Contains(work) == true)
            return Begun(work, Duration.Of(work.Span.Minutes));
        return new Piece
        {
            Kind = PieceKind.CleanDown,
            Night = work.Night,
            Zone = work.Zone,
            PlannedFrom = work.From,
            PlannedTo = work.To,
            People = [.. work.People.Select(hand => hand.Person)],
            Duration = Durations.OfCleanDown(problem.Week.Store.Zones[work.Zone]),
            NotBefore = now,
            Uses = pools.Of(problem.Zones[work.Zone].CleanDown!, work.Zone),
        };
    }

    private static Piece Begun(Work work, Duration duration) => new()
    {
        Kind = PieceKind.Begun,
        Night = work.Night,
        Zone = work.Zone,
        PlannedFrom = work.From,
        PlannedTo = work.To,
        People = [.. work.People.Select(hand => hand.Person)],
        Duration = duration,
        NotBefore = work.From,
    };

    private Piece Break(Shift shift) => new()
    {
        Kind = PieceKind.Break,
        Night = shift.Night,
        PlannedFrom = shift.Break!.Value.From,
        PlannedTo = shift.Break.Value.To,
        People = [shift.Person],
        Duration = Duration.Of(shift.Break.Value.Minutes),
        NotBefore = shift.Break.Value.From,
    };

    private IEnumerable<Piece> AddedCleanDowns() =>
        from night in problem.Nights
        where night.Closes > now
        from zone in problem.Zones
        where zone.CleanDown is not null
            && !schedule.Work.Any(work => work.IsCleanDown && work.Night == night.Index && work.Zone == zone.Index)
        select new Piece
        {
            Kind = PieceKind.AddedCleanDown,
            Night = night.Index,
            Zone = zone.Index,
            PlannedFrom = night.Closes,
            PlannedTo = night.Closes,
            Duration = Durations.OfCleanDown(problem.Week.Store.Zones[zone.Index]),
            NotBefore = now,
            StandIns = [.. problem.Nights.Select(at => at.Index == night.Index ? new StandIns(
                [.. Places(zone.CleanDown!).Select(post => Able(post, night.Index))]) : null)],
        };

    /// <summary>Planned people where they are there; in the place of others whoever is, has the skill and may do it.</summary>
    private StandIns? StandInsFor(Work work, Way way, Activity task, int night)
    {
        // Lowest to lowest and up: levels are nested.
        var posts = Places(way).OrderBy(post => post.Skill).ThenBy(post => post.Level);
        var hands = work.People.OrderBy(hand => hand.Skill).ThenBy(LevelOf).ToArray();
        var stay = hands.Where(hand => onShift[hand.Person, night]).Select(hand => hand.Person).ToHashSet();
        var places = posts.Zip(hands, (post, hand) => stay.Contains(hand.Person) ? (IReadOnlyList<int>)[hand.Person]
            : [.. Able(post, night)
                .Where(person => !stay.Contains(person) && !problem.Crew[person].Barred.Any(task.Traits.Contains))]).ToArray();
        return Array.Exists(places, place => place.Count == 0) ? null : new StandIns([.. places.OrderBy(place => place.Count)]);
    }

    private static IEnumerable<Post> Places(Way way) => way.Posts.SelectMany(post => Enumerable.Repeat(post, post.People));

    private IReadOnlyList<int> Able(Post post, int night) =>
        [.. problem.Crew.Where(person => onShift[person.Index, night] && person.Has(post)).Select(person => person.Index)];

    private int LevelOf(Hand hand) => hand.Skill < 0 ? 0 : problem.Crew[hand.Person].Levels[hand.Skill];

    private static bool[,] OnShift(Problem problem, Schedule schedule)
    {
        var there = new bool[problem.Crew.Count, problem.Nights.Count];
        foreach (var shift in schedule.Shifts) there[shift.Person, shift.Night] = true;
        return there;
    }
}
