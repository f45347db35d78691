namespace SetWeek.Service.Storage;

/// <summary>
/// The store of a week: stored when the week is opened, and read to check access to it. The type's name is that of its table.
/// </summary>
public sealed record WeekPlace(string Id, string Store);
