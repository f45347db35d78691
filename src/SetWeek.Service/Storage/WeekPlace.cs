namespace SetWeek.Service.Storage;

/// <summary>
/// The store of a week, written when the week is opened and read for access checks. The type name determines the table name.
/// </summary>
public sealed record WeekPlace(string Id, string Store);
