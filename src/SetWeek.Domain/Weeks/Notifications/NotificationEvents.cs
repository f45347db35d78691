using NodaTime;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Weeks.Notifications;

/// <summary>What somebody was told, saw or answered about an issue of the plan that changes something for them.</summary>
public interface INotificationEvent : IWeekEvent
{
    /// <summary>The number of the issue.</summary>
    int Issue { get; }

    string Person { get; }
}

/// <summary>A lead told a person what an issue changes for them.</summary>
/// <param name="By">The id of the lead.</param>
public sealed record PersonTold(int Issue, string Person, ToldHow How, Instant At, string By) : INotificationEvent;

/// <summary>A lead was wrong: the person was not told. It takes back every telling of that issue.</summary>
/// <param name="By">The id of the lead.</param>
public sealed record TellingRetracted(int Issue, string Person, string By) : INotificationEvent;

/// <summary>The person opened a page that shows what an issue changes for them. It is recorded once.</summary>
public sealed record ChangesSeen(int Issue, string Person, Instant At) : INotificationEvent;

/// <summary>The person answered what an issue changes for them. A later answer replaces it.</summary>
/// <param name="By">The id of the person, or of the lead who recorded the answer for them.</param>
public sealed record ChangesAnswered(int Issue, string Person, ChangesAnswer Answer, Instant At, string By) : INotificationEvent;

/// <summary>How a person was told.</summary>
public enum ToldHow { Said, Called, LeftMessage }

/// <summary>What a person answered.</summary>
public enum ChangesAnswer
{
    /// <summary>They have seen it, and say neither yes nor no.</summary>
    Seen,

    Agreed,

    /// <summary>They cannot. The reason is not recorded.</summary>
    Declined,
}
