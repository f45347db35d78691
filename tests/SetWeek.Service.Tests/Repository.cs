namespace SetWeek.Service.Tests;

/// <summary>The root folder of the repository, which contains the solution.</summary>
internal static class Repository
{
    public static readonly string Root = FolderAbove(AppContext.BaseDirectory);

    public static string PathOf(params string[] place) => Path.Combine([Root, .. place]);

    private static string FolderAbove(string folder) => File.Exists(Path.Combine(folder, "SetWeek.sln")) ? folder
        : FolderAbove(Path.GetDirectoryName(folder)
            ?? throw new DirectoryNotFoundException("SetWeek.sln is in no folder above the tests."));
}
