namespace SetWeek.Service.Access.Sessions;

/// <summary>A store's phone that its lead has enrolled, and that the crew shares.</summary>
public sealed record Phone(string Tenant, string Id, string Store, string Name);
