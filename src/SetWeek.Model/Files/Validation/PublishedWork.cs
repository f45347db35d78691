using SetWeek.Model.Plans;

namespace SetWeek.Model.Files.Validation;

/// <summary>The work of a published plan, by what it is.</summary>
internal sealed class PublishedWork(Plan published)
{
    private readonly Dictionary<(string Task, int Stint), PlannedWork> stints = published.Nights.SelectMany(night => night.Work)
        .Where(work => work.Task is not null).DistinctBy(work => (work.Task, work.Stint))
        .ToDictionary(work => (work.Task!, work.Stint!.Value));

    private readonly Dictionary<(string Night, string Zone), PlannedWork> cleanDowns = published.Nights
        .SelectMany(night => night.Work.Where(work => work.CleanDown is not null)
            .Select(work => (Key: (night.Night, work.CleanDown!), Work: work)))
        .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Work);

    public PlannedWork? Stint(string task, int stint) => stints.GetValueOrDefault((task, stint));

    public int StintCountOf(string task) => stints.Keys.Count(key => key.Task == task);

    public PlannedWork? CleanDown(string night, string zone) => cleanDowns.GetValueOrDefault((night, zone));
}
