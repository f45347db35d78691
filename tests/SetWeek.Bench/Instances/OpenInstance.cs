using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>An instance of an open set and what is known of it.</summary>
/// <param name="Set">The set that it is counted in.</param>
/// <param name="Name">As its authors name it.</param>
/// <param name="File">Where it lies.</param>
/// <param name="CriticalPath">Its longest chain: no plan is shorter, however much there is of everything.</param>
/// <param name="LowerBound">The largest that is proven.</param>
/// <param name="Best">The shortest plan known.</param>
public sealed record OpenInstance(string Set, string Name, string File, int CriticalPath, int LowerBound, int Best)
{
    /// <summary>The shortest plan known is proven to be one.</summary>
    public bool Closed => LowerBound == Best;

    public Week Read()
    {
        var (id, text) = (Name.ToLowerInvariant().Replace('_', '-'), System.IO.File.ReadAllText(File));
        return Path.GetExtension(File) switch
        {
            ".sm" => ProjectInstance.Read(id, text),
            ".dzn" => MultiSkillInstance.Read(id, text),
            _ => SkillLevelInstance.Read(id, text),
        };
    }
}
