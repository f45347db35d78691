using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Pages.Weeks;

/// <summary>
/// Which nights a page shows with all their work. A small week has room for all of them. Of a larger one the page shows one
/// night, so that it stays short enough to read and to load.
/// </summary>
/// <param name="Nights">The nights with shifts or work, in time order.</param>
/// <param name="InFull">Those that are shown with all their work.</param>
public sealed record ShownNights(IReadOnlyList<PlannedNight> Nights, IReadOnlyList<PlannedNight> InFull)
{
    /// <summary>
    /// Up to this many pieces the page shows every night, and up to the second number if the reader asks for it.
    /// </summary>
    public const int OnePage = 60, MostPieces = 150;

    private const string AllNights = "all";

    /// <summary>Whether some nights are shown in the table alone.</summary>
    public bool IsCut => InFull.Count < Nights.Count;

    /// <summary>Whether every night can be shown on one page, although one is.</summary>
    public bool HasAll => IsCut && Nights.Sum(night => night.Work.Count) <= MostPieces;

    /// <param name="asked">The id of the night that the reader asked for, or "all"; null: none.</param>
    /// <param name="now">Store-local: of a large week the page begins with the first night that has not closed.</param>
    public static ShownNights Of(Week week, IReadOnlyList<PlannedNight> planned, string? asked, LocalDateTime now)
    {
        PlannedNight[] nights = [.. planned.Where(night => night.Work.Count > 0 || night.Shifts.Count > 0)];
        if (nights.Sum(night => night.Work.Count) <= (asked == AllNights ? MostPieces : OnePage))
            return new ShownNights(nights, nights);
        var closes = week.Nights.ToDictionary(night => night.Id, night => night.Closes);
        return new ShownNights(nights,
            [nights.FirstOrDefault(night => night.Night == asked)
                ?? nights.FirstOrDefault(night => closes.TryGetValue(night.Night, out var end) && end > now) ?? nights[^1]]);
    }

    public static ShownNights Every(IReadOnlyList<PlannedNight> planned)
    {
        PlannedNight[] nights = [.. planned.Where(night => night.Work.Count > 0 || night.Shifts.Count > 0)];
        return new ShownNights(nights, nights);
    }

    /// <summary>Where a night is shown with all its work, as a link of the same page.</summary>
    public string AddressOf(string night) => IsCut ? $"?night={night}#{night}" : $"#{night}";
}
