namespace SetWeek.Service.Tests;

/// <summary>The clone that the tests were built in.</summary>
internal static class Repository
{
    public static readonly string Root = Above(AppContext.BaseDirectory);

    public static string PathOf(params string[] place) => Path.Combine([Root, .. place]);

    private static string Above(string folder) => File.Exists(Path.Combine(folder, "SetWeek.sln")) ? folder
        : Above(Path.GetDirectoryName(folder)
            ?? throw new DirectoryNotFoundException("SetWeek.sln is in no folder above the tests."));
}
