using SetWeek.Bench.Instances;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Benchmarks;

public class InstanceFileTests
{
    [OpenDataFact("rcpsp")]
    public void Published_instances_are_valid_weeks()
    {
        var data = OpenData.Folder!;
        Week[] weeks =
        [
            .. Files(data, "*.sm").Select(file => ProjectInstance.Read(Name(file), File.ReadAllText(file))),
            .. Files(data, "*.dzn").Select(file => MultiSkillInstance.Read(Name(file), File.ReadAllText(file))),
            .. Files(data, "*.def").Select(file => SkillLevelInstance.Read(Name(file), File.ReadAllText(file))),
        ];
        Assert.True(weeks.Length > 50);
        foreach (var week in weeks) Problem.Of(WeekFile.Check(week).Match(good => good, ExampleFiles.Fail<Week>));
    }

    /// <summary>Every tenth file, which includes some of every set.</summary>
    private static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.EnumerateFiles(folder, pattern, SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Where((_, index) => index % 10 == 0);

    private static string Name(string file) => Path.GetFileNameWithoutExtension(file).ToLowerInvariant().Replace('_', '-');
}
