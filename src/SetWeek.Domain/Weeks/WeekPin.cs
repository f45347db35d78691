using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>A pin of a week with the id by which it is taken away again.</summary>
public sealed record WeekPin(string Id, Pin Pin)
{
    /// <summary>The pins with which a week is opened are numbered like those added later.</summary>
    public static string IdOf(int number) => $"pin-{number}";
}
