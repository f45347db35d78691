using NodaTime;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>
/// Generates realistic weeks from a seed; the same seed always gives the same week. The nights are made as short as possible so
/// that the load of the crew does not exceed a target.
/// </summary>
public sealed class WeekGenerator
{
    private static readonly LocalDate Monday = new(2027, 3, 8);
    private static readonly SkillRequirement Cleaner = new("cleaning", 1);

    private readonly Random random;
    private readonly Size size;
    private readonly int seed;

    private WeekGenerator(Size size, int seed)
    {
        (this.size, this.seed) = (size, seed);
        random = new Random(seed * 7919 + size.Tasks);
    }

    public sealed record Size(string Name, int Tasks, int People, int Nights, int Zones)
    {
        public static readonly Size Small = new("small", 40, 6, 5, 4);
        public static readonly Size Medium = new("medium", 90, 9, 6, 6);
        public static readonly Size Large = new("large", 180, 14, 7, 8);

        /// <summary>A size with that many tasks, and with crew, nights and zones in proportion.</summary>
        public static Size Of(int tasks) =>
            new($"tasks-{tasks}", tasks, Math.Min(60, 3 + tasks / 15), Math.Min(21, 4 + tasks / 50),
                Math.Min(20, 3 + tasks / 35));
    }

    /// <summary>
    /// The weeks of the benchmarks: three of each size with a load of 70 to 75 %. Their seeds are chosen among the first
    /// sixteen so that each week is feasible (some seeds are proven infeasible). In small-6 not every want fits.
    /// </summary>
    public static IReadOnlyList<(Size Size, int Seed)> Fixed { get; } =
    [
        (Size.Small, 4), (Size.Small, 6), (Size.Small, 15),
        (Size.Medium, 4), (Size.Medium, 8), (Size.Medium, 11),
        (Size.Large, 8), (Size.Large, 9), (Size.Large, 12),
    ];

    /// <summary>Weeks of growing size: for each size the first seed whose week is feasible.</summary>
    public static IReadOnlyList<(int Tasks, int Seed)> Growing { get; } =
        [(25, 2), (50, 1), (100, 1), (200, 1), (300, 1), (400, 1), (500, 1)];

    public static Week Make(Size size, int seed) => new WeekGenerator(size, seed).Week();

    /// <summary>
    /// The load: person-minutes of work divided by the capacity of the crew. The work counts first modes of all displays except
    /// alternates, and a clean-down of each zone in all nights but two. The capacity counts availability within the limits of
    /// shifts, nights and rest around commitments, less breaks and the time for opening and closing.
    /// </summary>
    public static double LoadOf(Week week) => (double)WorkMinutes(week) / CrewMinutes(week);

    private Week Week()
    {
        var (displays, tasks, kits) = new DisplayGenerator(random, size).Make();
        var share = 0.71 + random.NextDouble() * 0.03;
        var crew = Crew();
        Week? week = null;
        for (var length = 180; length <= 480; length += 5)
        {
            week = Assemble(displays, tasks, kits, crew, length);
            if (LoadOf(week) <= share) break;
        }
        return week!;
    }

    private Week Assemble(
        IReadOnlyList<Display> displays, IReadOnlyList<WeekTask> tasks, IReadOnlyList<Kit> kits, IReadOnlyList<CrewMember> crew,
        int length)
    {
        Night[] nights = [.. Enumerable.Range(0, size.Nights).Select(night =>
        {
            // One night in three opens 90 minutes earlier.
            var opens = Monday.PlusDays(night).At(new LocalTime(21, 30));
            if ((night + seed) % 3 == 2) opens = opens.PlusMinutes(-90);
            var closes = Monday.PlusDays(night).At(new LocalTime(21, 30)).PlusMinutes(length);
            return new Night($"night-{night + 1}", opens, closes)
            {
                Bans = night % 2 == 1 ? [new Ban("noisy", closes.PlusMinutes(-60), closes)] : [],
            };
        })];
        return new Week
        {
            Id = $"generated.{size.Name}-{seed}",
            Currency = "GBP",
            Launch = nights[^1].Closes.Date.At(new LocalTime(9, 0)),
            Store = new Store
            {
                Id = "generated",
                TimeZone = "Europe/London",
                Zones = [.. Enumerable.Range(1, size.Zones).Select(zone => new Zone($"zone-{zone}", $"Zone {zone}", 4 + zone % 2,
                    new ZoneCleanDown(8 + 4 * (zone % 4), [Cleaner])))],
                Equipment = [new("ladder", 2 + size.People / 5), new("steamer", 1 + size.People / 10)],
            },
            Nights = nights,
            Crew = [.. crew.Select(member => member with
            {
                Available =
                    [.. member.Available.Select(entry => WithArrivalTime(entry, nights.First(night => night.Id == entry.Night)))],
            })],
            Kits = kits,
            Displays = displays,
            Tasks = tasks,
            Rules = Rules,
        };
    }

    /// <summary>
    /// An entry with a start means a late arrival. Its time, an hour after the opening, is set here.
    /// </summary>
    private static Availability WithArrivalTime(Availability entry, Night night) =>
        entry.From is null ? entry : entry with { From = night.Opens.PlusMinutes(60) };

    private CrewMember[] Crew() => [.. Enumerable.Range(0, size.People).Select(index =>
    {
        var young = index == size.People - 1;
        string[] trades = ["painting", "fixtures", "rigging", "dressing"];
        var skills = new SortedDictionary<string, int>(StringComparer.Ordinal) { ["stock"] = 1 + random.Next(2),
            ["cleaning"] = 1 };
        if (young) skills["dressing"] = 1;
        else
            for (var trade = 0; trade < 2 + random.Next(2); trade++)
                skills[trades[(index + trade) % trades.Length]] = trade == 0 ? 3 : 1 + random.Next(3);
        // Each person except keyholders misses some nights. One person in three comes late once.
        var keyholder = index < 2 + size.People / 10;
        var late = random.Next(size.Nights);
        return new CrewMember
        {
            Id = $"c{index + 1}",
            Name = $"Crew {index + 1}",
            Skills = skills,
            Keyholder = keyholder,
            Under18 = young,
            RatePerHour = young ? 950 : 1200 + 50 * random.Next(8),
            MaxNights = keyholder ? size.Nights : size.Nights - 1,
            MaxMinutesPerNight = 480,
            MinutesAlready = 600 * random.Next(4),
            Available = [.. Enumerable.Range(0, size.Nights).Where(_ => keyholder || random.Next(8) > 0)
                .Select(night => new Availability($"night-{night + 1}",
                    index % 3 == 2 && night == late ? Monday.AtMidnight() : null))],
            Commitments = index % 4 == 3 ? [DayShift(), DayShift()] : [],
        };
    })];

    /// <summary>
    /// Day work that ends shortly before a night, so that it is joined, or in the afternoon, so that rest binds.
    /// </summary>
    private Commitment DayShift()
    {
        var day = Monday.PlusDays(random.Next(size.Nights));
        return random.Next(2) == 0
            ? new(day.At(new LocalTime(18, 0)), day.At(new LocalTime(20, 0)))
            : new(day.At(new LocalTime(11, 0)), day.At(new LocalTime(15, 0)));
    }

    /// <summary>
    /// Rest and young-worker numbers follow the UK Working Time Regulations 1998, regulations 10, 6A and 12. Shift lengths are
    /// common practice (no source).
    /// </summary>
    private static RuleSet Rules { get; } = new()
    {
        MinRestMinutes = 660, JoinMinutes = 60, MinShiftMinutes = 180, MaxShiftMinutes = 480, ShiftGridMinutes = 15,
        BreakAfterMinutes = 360, BreakMinutes = 20, MinPeople = 2, KeyholderPresent = true,
        OpeningMinutes = 15, ClosingMinutes = 15,
        OvertimeAfterMinutes = 2400, OvertimePercent = 150, LaunchBufferMinutes = 120, NoticeMinutes = 1440, ReservePercent = 60,
        Under18 = new()
        {
            Until = new LocalTime(22, 0), Barred = ["ladder"], MinRestMinutes = 720, MaxShiftMinutes = 480,
            BreakAfterMinutes = 270, BreakMinutes = 30,
        },
    };

    private static long WorkMinutes(Week week)
    {
        var alternates = week.Displays.Select(display => display.Alternate?.Display).ToHashSet();
        var work = week.Tasks.Where(task => !alternates.Contains(task.Display))
            .Sum(task => (long)task.Modes[0].Minutes * task.Modes[0].Roles.Sum(role => role.People));
        return work + week.Store.Zones.Sum(zone => zone.CleanDown?.Minutes ?? 0) * Math.Max(1, week.Nights.Count - 2);
    }

    private static long CrewMinutes(Week week)
    {
        var problem = Problem.Of(week);
        var overhead = problem.Nights.Count * ((problem.Rules.OpeningMinutes ?? 0) + (problem.Rules.ClosingMinutes ?? 0));
        return problem.Crew.Sum(person => problem.Nights
            .Select(night => (long)person.ShiftWindows[night.Index].Where(window => HasRest(person, window))
                .Select(window => PaidMinutes(person, window)).DefaultIfEmpty(0).Max())
            .OrderDescending().Take(person.MaxNights).Sum()) - overhead;
    }

    private static int PaidMinutes(Person person, Span window)
    {
        var length = Math.Min(window.Minutes, Math.Min(person.MaxShift, person.MaxMinutesPerNight));
        return length < person.MinShift ? 0 : length > person.BreakAfter ? length - person.BreakMinutes : length;
    }

    private static bool HasRest(Person person, Span window) => person.Commitments.All(commitment =>
        commitment.To + person.MinRest <= window.From || window.To + person.MinRest <= commitment.From
        || (commitment.To <= window.From && window.From - commitment.To <= person.JoinMinutes));
}
