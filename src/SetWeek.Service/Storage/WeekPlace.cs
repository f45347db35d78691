namespace SetWeek.Service.Storage;

/// <summary>Whose week it is; stored with the week's opening, read before anybody is let near it.</summary>
public sealed record WeekPlace(string Id, string Store);
