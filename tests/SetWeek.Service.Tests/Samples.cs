namespace SetWeek.Service.Tests;

/// <summary>Fixed request bodies, which tests modify.</summary>
public static class Samples
{
    public static string Store(string id = "harbour-street", string name = "Harbour Street") => $$"""
        {"id": "{{id}}", "name": "{{name}}", "timeZone": "Europe/London",
            "zones": [{"id": "window", "name": "Show window", "maxPeople": 2}]}
        """;
}
