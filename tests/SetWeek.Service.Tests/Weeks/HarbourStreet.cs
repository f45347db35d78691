namespace SetWeek.Service.Tests.Weeks;

/// <summary>The scenario's set week: a real problem, which takes a while.</summary>
public static class HarbourStreet
{
    public const string Address = "/weeks/first-rain.harbour-street";

    public static async Task Open(Voice head)
    {
        foreach (var (path, file) in new[]
            { ("/directions", "first-rain.direction"), ("/stores", "harbour-street.store"),
                ("/weeks", "harbour-street.opening") })
            await FirstRain.Must(201,
                head.Post(path, await File.ReadAllTextAsync(Repository.PathOf("ops", "scenario", $"{file}.json"))));
    }
}
