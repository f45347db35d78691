using SetWeek.Domain.Figures;
using SetWeek.Service.Pages.HeadOffice;
using SetWeek.Service.Words;

namespace SetWeek.Service.Stores;

/// <summary>The names that the ledger shows, by id.</summary>
internal sealed record LedgerWords(IReadOnlyDictionary<string, string> Stores, IReadOnlyDictionary<string, string> Directions)
{
    public string Store(LedgerWeek week) => Stores.GetValueOrDefault(week.Figures.Store, week.Figures.Store);

    public string Direction(LedgerWeek week) => Directions.GetValueOrDefault(week.Figures.Direction, week.Figures.Direction);
}

/// <summary>The weeks of the ledger that one page shows, and how many there are beyond.</summary>
/// <param name="IsPlain">Whether all weeks are plain rows, as for a crew, which has nothing to decide here.</param>
internal sealed record LedgerParts(StoreLedger Ledger, LedgerFilter Filter, bool IsPlain, IReadOnlyList<LedgerWeek> Unsafe,
    IReadOnlyList<LedgerWeek> AtRisk, IReadOnlyList<LedgerWeek> Silent, IReadOnlyList<LedgerWeek> Rest, int AllOfRest)
{
    private const int MostEntries = 25, MostRows = 50;

    public static LedgerParts Of(StoreLedger ledger, LedgerFilter filter, bool isPlain)
    {
        IReadOnlyList<LedgerWeek> rest = !isPlain ? ledger.Rest
            : [.. ledger.Unsafe.Concat(ledger.AtRisk).Concat(ledger.Silent).Concat(ledger.Rest)
                .DistinctBy(week => week.Figures.Week).OrderBy(week => week.Figures.Week, StringComparer.Ordinal)];
        return new LedgerParts(ledger, filter, isPlain, Part(LedgerFilter.Unsafe, ledger.Unsafe, MostEntries),
            Part(LedgerFilter.AtRisk, ledger.AtRisk, MostEntries), Part(LedgerFilter.Silent, ledger.Silent, MostEntries),
            Part(LedgerFilter.Rest, rest, MostRows), rest.Count);

        IReadOnlyList<LedgerWeek> Part(string section, IReadOnlyList<LedgerWeek> weeks, int most) =>
            !filter.Shows(section) || isPlain && section != LedgerFilter.Rest ? []
                : [.. weeks.Skip(filter.SkipIn(section)).Take(most)];
    }

    public IEnumerable<LedgerWeek> Shown => Unsafe.Concat(AtRisk).Concat(Silent).Concat(Rest);

    /// <summary>What is so, in a few sentences.</summary>
    /// <param name="asked">How many questions wait, at most one more than <paramref name="mostAsked"/>.</param>
    public IEnumerable<string> Sentences(LedgerWords words, int asked, int mostAsked)
    {
        if (Ledger.Count == 0)
        {
            yield return "No week is open.";
            yield break;
        }
        yield return words.Directions.Count == 1
            ? $"{words.Directions.Values.Single()} is set in {Count(Ledger.Count, "store", "stores")}."
            : $"{Count(words.Directions.Count, "direction is", "directions are")} set, in "
                + $"{Count(Ledger.Count, "week", "weeks")}.";
        if (IsPlain) yield break;
        yield return Ledger.Unsafe.Count == 0 ? "Nowhere is work stopped."
            : $"Work is stopped in {Count(Ledger.Unsafe.Count, "store", "stores")}.";
        yield return Ledger.AtRisk.Count == 0 ? "By what is reported no launch is at risk."
            : $"{Count(Ledger.AtRisk.Count, "launch is", "launches are")} at risk.";
        yield return Ledger.Silent.Count == 0 ? "No store is silent."
            : $"{Count(Ledger.Silent.Count, "store is", "stores are")} silent.";
        if (asked > mostAsked) yield return $"More than {mostAsked} questions wait.";
        else if (asked > 0) yield return $"{Count(asked, "question waits", "questions wait")}.";
    }

    /// <summary>The sections that have an entry.</summary>
    /// <param name="asking">Where the reader asks a store how it stands; null where that cannot be asked.</param>
    public IReadOnlyList<StoresPage.Section> Sections(LedgerWords words, Func<WeekFigures, string?> asking) =>
    [
        .. new StoresPage.Section[]
        {
            new(LedgerFilter.Unsafe, "Not safe", "Nothing starts there until a lead lifts the stop.", [.. Unsafe.Select(week =>
                Entry(asking, LedgerFilter.Unsafe, words, week, [.. week.Figures.Stops.Select(LedgerSentences.Stop)], [], []))],
                Next(LedgerFilter.Unsafe, Ledger.Unsafe.Count, MostEntries)),
            new(LedgerFilter.AtRisk, "Launch at risk", "The next launch stands first.", [.. AtRisk.Select(week =>
                Entry(asking, LedgerFilter.AtRisk, words, week, week.Outlook.Because, [.. LedgerSentences.WayOut(week.Figures)],
                    [.. Offers(words, week)]))],
                Next(LedgerFilter.AtRisk, Ledger.AtRisk.Count, MostEntries)),
            new(LedgerFilter.Silent, "Silent", "Nothing is known of these, and nothing is assumed.", [.. Silent.Select(week =>
                Entry(asking, LedgerFilter.Silent, words, week, [LedgerSentences.Silence(week.Silence!)],
                    [LedgerSentences.Expected(week.Silence!)], []))],
                Next(LedgerFilter.Silent, Ledger.Silent.Count, MostEntries)),
        }.Where(section => section.Entries.Count > 0),
    ];

    /// <returns>Null if the page shows another section only.</returns>
    public StoresPage.RestOfChain? RestOf(LedgerWords words) => !Filter.Shows(LedgerFilter.Rest) ? null : new(
        AllOfRest == Ledger.Count ? "The stores" : "The rest of the chain",
        Ledger.Count == 0 ? "No week is open." : "Every store is unsafe, at risk or silent.",
        [.. Rest.Select(week => new StoresPage.Row(words.Store(week), AddressOf(week.Figures), words.Direction(week),
            LedgerSentences.Progress(week.Figures), LedgerSentences.At(week.Figures.Launch),
            LedgerSentences.Heard(week.Figures)))],
        Next(LedgerFilter.Rest, AllOfRest, MostRows));

    private MoreLink? Next(string section, int count, int most)
    {
        var shown = Filter.SkipIn(section) + most;
        return count <= shown ? null
            : new($"The next {Math.Min(most, count - shown)} of {count}", Filter.AddressOf(section, shown));
    }

    private static StoresPage.Entry Entry(Func<WeekFigures, string?> asking, string section, LedgerWords words, LedgerWeek week,
        IReadOnlyList<string> strong, IReadOnlyList<string> details, IReadOnlyList<StoresPage.Offer> offers) => new(
        $"{section}-{week.Figures.Week}", words.Store(week), AddressOf(week.Figures), strong,
        [.. details, LedgerSentences.Progress(week.Figures)], offers, asking(week.Figures),
        $"{words.Direction(week)}, launch {LedgerSentences.At(week.Figures.Launch)}. {LedgerSentences.Heard(week.Figures)}");

    /// <summary>The decisions that a reader outside the store can take: the alternates of displays that are not begun.</summary>
    private static IEnumerable<StoresPage.Offer> Offers(LedgerWords words, LedgerWeek week) =>
        week.Figures.Alternates.Select(alternate => new StoresPage.Offer(LedgerSentences.Alternate(alternate),
            $"Build {alternate.Instead} in {words.Store(week)}",
            $"/weeks/{week.Figures.Week}/displays/{alternate.Display}/choice?form-method=put", $"\"{week.Version}\""));

    /// <summary>The page of the week's plan; of the store while there is none.</summary>
    private static string AddressOf(WeekFigures week) =>
        week.PublishedPlan is null ? $"/stores/{week.Store}" : $"/weeks/{week.Week}/plan";

    private static string Count(int number, string one, string several) => LedgerSentences.Count(number, one, several);
}
