using System.Globalization;

namespace SetWeek.Bench.Instances;

/// <summary>
/// The open sets and the lists of what is known of them, as the data's own README says. Of each set a sample is fixed by
/// rule: of its list every so-many-th, the first among them, so that nothing is chosen by its result.
/// </summary>
public static class OpenSets
{
    /// <summary>
    /// By set: every how-many-th instance of its list is in the sample. The lists go through each set's parameters in order.
    /// </summary>
    private static readonly Dictionary<string, int> Every = new()
    {
        ["j30"] = 7, ["j60"] = 9, ["j120"] = 15,
        ["set-1a"] = 8, ["set-1b"] = 8, ["set-2a"] = 4, ["set-2b"] = 4, ["set-2c"] = 5, ["d36"] = 3,
    };

    /// <summary>
    /// Project scheduling with scarce resources (Kolisch and Sprecher 1997): j30.csv names, critical path, resource bound, best
    /// lower and upper bound; and so on. A folder without some of the lists gives those that it has.
    /// </summary>
    public static IEnumerable<OpenInstance> Projects(string folder) =>
        from set in new[] { "j30", "j60", "j120" }
        from row in Rows(folder, $"{set}.csv")
        select new OpenInstance(set, row[0], Path.Combine(folder, set, $"{row[0]}.sm"), Number(row[1]),
            Number(row[3]), Number(row[4]));

    /// <summary>
    /// People with skills: several at a task (mspsp.csv: Young, Feydy and Schutt 2017; Montoya et al. 2014; Almeida et al.
    /// 2015), or one with a level (d36.csv: Myszkowski et al. 2015).
    /// </summary>
    public static IEnumerable<OpenInstance> Teams(string folder) =>
        (from row in Rows(folder, "mspsp.csv")
         let proven = row[7] == "1"
         select new OpenInstance(row[0], row[1], Path.Combine(folder, "mspsp", row[0], $"{row[1]}.dzn"),
             Number(row[5]), Number(proven ? row[6] : row[5]), Number(row[6])))
        .Concat(from row in Rows(folder, "d36.csv")
                select new OpenInstance("d36", row[0], Path.Combine(folder, "d36", $"{row[0]}.def"), Number(row[4]),
                    Number(row[5]), Number(row[6])));

    /// <summary>The sample of what is given, set by set, thinned once more by a factor.</summary>
    public static IEnumerable<OpenInstance> Sample(IEnumerable<OpenInstance> all, int thinner = 1) => all
        .GroupBy(instance => instance.Set)
        .SelectMany(set => set.Where((_, index) => index % (Every[set.Key] * thinner) == 0));

    private static IEnumerable<string[]> Rows(string folder, string list) =>
        Path.Combine(folder, list) is var file && File.Exists(file)
            ? File.ReadLines(file).Skip(1).Select(line => line.Split(',')) : [];

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
