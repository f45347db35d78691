namespace SetWeek.Service.Pages.Directions;

/// <summary>What the form sends along that brings in a direction or a new version of one.</summary>
/// <param name="Token">The anti-forgery token.</param>
/// <param name="Key">The idempotency key; another each time the page is loaded.</param>
public sealed record BringForm(string Token, string Key);
