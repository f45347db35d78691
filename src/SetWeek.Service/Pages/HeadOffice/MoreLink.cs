namespace SetWeek.Service.Pages.HeadOffice;

/// <summary>A link to the entries of a ledger that follow those on the page.</summary>
public sealed record MoreLink(string Name, string Address);
