using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>A published instance with its known bounds.</summary>
/// <param name="Set">The set that it belongs to.</param>
/// <param name="Name">Its published name.</param>
/// <param name="File">Path of its file.</param>
/// <param name="CriticalPath">Length of the longest path, a lower bound for any amount of resources.</param>
/// <param name="LowerBound">The best proven lower bound on the makespan.</param>
/// <param name="Best">The best known makespan.</param>
public sealed record OpenInstance(string Set, string Name, string File, int CriticalPath, int LowerBound, int Best)
{
    /// <summary>Whether the best known makespan is proven optimal.</summary>
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
