using SetWeek.Model.Plans;

namespace SetWeek.Model.Files.Validation;

/// <summary>Looks up the work of a published plan by task and stint, or by night and zone.</summary>
internal sealed class PublishedWork(Plan published)
{
    private readonly Dictionary<(string Task, int Stint), PlannedWork> stints = published.Nights.SelectMany(night => night.Work)
        .Where(work => work.Task is not null).DistinctBy(work => (work.Task, work.Stint))
        .ToDictionary(work => (work.Task!, work.Stint!.Value));

    private readonly Dictionary<(string Task, int Stint), string> nights = published.Nights
        .SelectMany(night => night.Work.Where(work => work.Task is not null)
            .Select(work => (Key: (work.Task!, work.Stint!.Value), night.Night)))
        .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Night);

    private readonly Dictionary<(string Night, string Zone), PlannedWork> cleanDowns = published.Nights
        .SelectMany(night => night.Work.Where(work => work.CleanDown is not null)
            .Select(work => (Key: (night.Night, work.CleanDown!), Work: work)))
        .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Work);

    /// <summary>The work of a stint, or null if it was not planned.</summary>
    public PlannedWork? Stint(string task, int stint) => stints.GetValueOrDefault((task, stint));

    /// <summary>The id of the night of a stint, or null if it was not planned.</summary>
    public string? NightOf(string task, int stint) => nights.GetValueOrDefault((task, stint));

    /// <summary>Number of stints that were planned of a task.</summary>
    public int StintCountOf(string task) => stints.Keys.Count(key => key.Task == task);

    /// <summary>The clean-down of a zone in a night, or null if none was planned.</summary>
    public PlannedWork? CleanDown(string night, string zone) => cleanDowns.GetValueOrDefault((night, zone));
}
