using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>Starts from First to Last, both included, in minutes.</summary>
internal readonly record struct StartRange(int First, int Last);

/// <summary>
/// When a stint could start by itself, by way and night: what holds for any valid plan whatever else is in it. Used:
/// window, grid, ban, kit, launch, due, equipment (its own pieces fit), zone-room (its own people fit), clean-down (one
/// still fits between it and the closes), skill with availability (enough people have room for all of it at once), and
/// open-close and two-person through <see cref="CrewRooms"/>.
/// </summary>
internal sealed class StartRooms(Problem problem, CrewRooms crew)
{
    private readonly Dictionary<(int Activity, int Mode, int Minutes), StartRange[][]> known = [];
    private readonly Dictionary<(Post, string Barred), ulong> able = [];
    private readonly Dictionary<string, int> teams = [];
    private readonly Dictionary<(int Team, int Minutes, int Night), Span[]> staffed = [];

    public IReadOnlyList<StartRange> Of(Stint stint, int mode, int night)
    {
        var minutes = problem.MinutesOf(stint, mode);
        if (!known.TryGetValue((stint.Task.Index, mode, minutes), out var byNight))
            known[(stint.Task.Index, mode, minutes)] = byNight =
                [.. problem.Nights.Select(window => Ranges(stint.Task, stint.Task.Ways[mode], minutes, window).ToArray())];
        return byNight[night];
    }

    /// <summary>Ways that a stint may be done in at all.</summary>
    public IEnumerable<int> Modes(Stint stint) => problem.Facts?.KeptMode[stint.Index] is { } kept
        ? [kept] : Enumerable.Range(0, stint.Task.Ways.Count);

    /// <summary>People who may fill a post of a task, as bits.</summary>
    public static ulong Able(Problem problem, Post post, Activity? task) => problem.Crew
        .Where(person => person.Has(post) && (task is null || !person.Barred.Any(task.Traits.Contains)))
        .Aggregate(0UL, (bits, person) => bits | 1UL << person.Index);

    private IEnumerable<StartRange> Ranges(Activity task, Way way, int minutes, NightWindow night)
    {
        if (way.Equipment.GroupBy(use => use.Equipment)
            .Any(uses => uses.Sum(use => use.Count) > problem.EquipmentCounts[uses.Key])
            || way.People > problem.Zones[task.Zone].MaxPeople) yield break;
        var first = Math.Max(night.Opens, task.KitsIn);
        var end = Math.Min(Math.Min(night.Closes, Unlapsed(problem.Launch)), Unlapsed(task.Due));
        if (!task.Last && problem.Zones[task.Zone].CleanDown is { } down && !crew.Begun(night.Index))
            end = Math.Min(end, LatestCleanDown(down, night));
        IEnumerable<Span> free = [new(first, end)];
        foreach (var ban in night.Bans.Where(ban => task.Traits.Contains(ban.Trait)))
            free = free.SelectMany(span =>
                (Span[])[span with { To = Math.Min(span.To, ban.Span.From) },
                    span with { From = Math.Max(span.From, ban.Span.To) }]);
        if (way.People > 0) free = Staffed(task, way, minutes, night.Index, free);
        foreach (var span in free)
        {
            var range = new StartRange(problem.NextSlot(night.Index, span.From), span.To - minutes);
            if (span.From < span.To && range.First <= range.Last)
                yield return range with { Last =
                    range.First + (range.Last - range.First) / problem.Grid.Minutes * problem.Grid.Minutes };
        }
    }

    /// <summary>A due or a launch that has passed binds nothing any more: what is late is a fact, and is planned on.</summary>
    private int Unlapsed(int minute) => problem.Facts is { } facts && minute <= facts.Now ? Problem.Never : minute;

    /// <summary>
    /// The minute by which work in a zone ends so that a clean-down still fits; before the night opens where none fits.
    /// </summary>
    private int LatestCleanDown(Way down, NightWindow night)
    {
        var closes = Math.Min(night.Closes, Unlapsed(problem.Launch));
        if (down.People == 0) return closes - down.Minutes;
        var spans = Staffed(null, down, down.Minutes, night.Index, [new(night.Opens, closes)]).ToArray();
        return spans.Length == 0 ? night.Opens - 1 : spans.Max(span => span.To) - down.Minutes;
    }

    /// <summary>
    /// The parts of the given spans where all posts can be filled at once by people with room for the whole length.
    /// </summary>
    private IEnumerable<Span> Staffed(Activity? task, Way way, int minutes, int night, IEnumerable<Span> free)
    {
        var posts = way.Posts.Select(post => (Bits: AbleFor(post, task), post.People)).ToArray();
        var key = string.Join(' ', posts);
        if (!teams.TryGetValue(key, out var team)) team = teams[key] = teams.Count;
        if (!staffed.TryGetValue((team, minutes, night), out var whole)) staffed[(team, minutes, night)] = whole =
            Starts(posts, minutes, night);
        return Spans.Common([.. free.Where(span => span.Minutes >= minutes)
            .Select(span => new Span(span.From, span.To - minutes + 1))], whole)
            .Select(starting => starting with { To = starting.To - 1 + minutes });
    }

    private ulong AbleFor(Post post, Activity? task)
    {
        var barred = task is null || problem.Rules.Under18 is not { } young ? ""
            : string.Join(' ', young.Barred.Where(task.Traits.Contains));
        if (able.TryGetValue((post, barred), out var bits)) return bits;
        return able[(post, barred)] = Able(problem, post, task);
    }

    /// <summary>Minutes at which so long a piece could start with all posts filled.</summary>
    private Span[] Starts((ulong Bits, int People)[] posts, int minutes, int night)
    {
        var anyone = posts.Aggregate(0UL, (bits, post) => bits | post.Bits);
        var starts = problem.Crew.Where(person => (anyone >> person.Index & 1) == 1)
            .SelectMany(person => Spans.Common([.. crew.Of(person.Index, night).Select(room => room.Span)], crew.WorkSpans(night))
                .Where(span => span.Minutes >= minutes)
                    .Select(span => (Person: person.Index, First: span.From, Last: span.To - minutes)))
            .ToArray();
        var edges = starts.SelectMany(start => (int[])[start.First, start.Last + 1]).Distinct().Order().ToArray();
        var whole = new List<Span>();
        for (var edge = 0; edge + 1 < edges.Length; edge++)
        {
            var here = starts.Where(start => start.First <= edges[edge] && edges[edge] <= start.Last)
                .Aggregate(0UL, (bits, start) => bits | 1UL << start.Person);
            if (Enough(posts, here)) whole.Add(new(edges[edge], edges[edge + 1]));
        }
        return Spans.Union(whole);
    }

    /// <summary>
    /// Hall's condition: every group of posts (of the first ten, if they are more) finds as many people as it wants.
    /// </summary>
    private static bool Enough((ulong Bits, int People)[] posts, ulong here)
    {
        for (var group = 1; group < 1 << Math.Min(10, posts.Length); group++)
        {
            var (bits, wanted) = (0UL, 0);
            for (var post = 0; post < posts.Length; post++)
                if ((group >> post & 1) == 1) (bits, wanted) = (bits | posts[post].Bits, wanted + posts[post].People);
            if (System.Numerics.BitOperations.PopCount(bits & here) < wanted) return false;
        }
        return true;
    }
}
