using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>How faults name what the file has elsewhere: by name, which people know; by id, if the name could not be read.</summary>
internal static class FaultNames
{
    public static string Of(WeekTask task) => Of(task.Name, task.Id);

    /// <summary>The display of that id, which the week may lack.</summary>
    public static string Display(Week week, string id) =>
        Of(week.Displays.FirstOrDefault(display => display.Id == id)?.Name ?? "", id);

    private static string Of(string name, string id) => name == "" ? QuotedInput.Of(id) : $"“{name}”";
}
