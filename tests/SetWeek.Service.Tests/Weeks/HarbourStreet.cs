namespace SetWeek.Service.Tests.Weeks;

/// <summary>The demo week of Harbour Street, which takes some time to solve.</summary>
public static class HarbourStreet
{
    public const string Address = "/weeks/first-rain.harbour-street";

    public static async Task Open(ApiClient head)
    {
        foreach (var (path, file) in new[]
            { ("/directions", "first-rain.direction"), ("/stores", "harbour-street.store"),
                ("/weeks", "harbour-street.opening") })
            await FirstRain.ExpectStatus(201,
                head.Post(path, await File.ReadAllTextAsync(Repository.PathOf("ops", "scenario", $"{file}.json"))));
    }
}
