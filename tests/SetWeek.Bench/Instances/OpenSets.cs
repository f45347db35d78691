using System.Globalization;

namespace SetWeek.Bench.Instances;

/// <summary>
/// The published sets and their lists of known bounds, as the README of the data describes them. The sample of a set takes every
/// n-th instance of its list, starting with the first, so that no instance is chosen by its result.
/// </summary>
public static class OpenSets
{
    /// <summary>
    /// For each set the step n of its sample. The lists are in order of the sets' parameters.
    /// </summary>
    private static readonly Dictionary<string, int> SampleSteps = new()
    {
        ["j30"] = 7, ["j60"] = 9, ["j120"] = 15,
        ["set-1a"] = 8, ["set-1b"] = 8, ["set-2a"] = 4, ["set-2b"] = 4, ["set-2c"] = 5, ["d36"] = 3,
    };

    /// <summary>
    /// Resource-constrained project scheduling (Kolisch and Sprecher 1997). The columns of j30.csv, j60.csv and j120.csv are
    /// name, critical path, resource bound, best lower bound and best upper bound. Absent lists are skipped.
    /// </summary>
    public static IEnumerable<OpenInstance> Projects(string folder) =>
        from set in new[] { "j30", "j60", "j120" }
        from row in Rows(folder, $"{set}.csv")
        select new OpenInstance(set, row[0], Path.Combine(folder, set, $"{row[0]}.sm"), Number(row[1]),
            Number(row[3]), Number(row[4]));

    /// <summary>
    /// Multi-skill project scheduling: several people for a task (mspsp.csv: Young, Feydy and Schutt 2017; Montoya et al. 2014;
    /// Almeida et al. 2015), or one person with a skill level (d36.csv: Myszkowski et al. 2015).
    /// </summary>
    public static IEnumerable<OpenInstance> Teams(string folder) =>
        (from row in Rows(folder, "mspsp.csv")
         let proven = row[7] == "1"
         select new OpenInstance(row[0], row[1], Path.Combine(folder, "mspsp", row[0], $"{row[1]}.dzn"),
             Number(row[5]), Number(proven ? row[6] : row[5]), Number(row[6])))
        .Concat(from row in Rows(folder, "d36.csv")
                select new OpenInstance("d36", row[0], Path.Combine(folder, "d36", $"{row[0]}.def"), Number(row[4]),
                    Number(row[5]), Number(row[6])));

    /// <summary>The sample of the given instances by set, thinned further by a factor.</summary>
    public static IEnumerable<OpenInstance> Sample(IEnumerable<OpenInstance> all, int thinningFactor = 1) => all
        .GroupBy(instance => instance.Set)
        .SelectMany(set => set.Where((_, index) => index % (SampleSteps[set.Key] * thinningFactor) == 0));

    private static IEnumerable<string[]> Rows(string folder, string list) =>
        Path.Combine(folder, list) is var file && File.Exists(file)
            ? File.ReadLines(file).Skip(1).Select(line => line.Split(',')) : [];

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
