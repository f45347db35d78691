using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Pages.Directions;

/// <summary>What the form sends along that brings in a direction or a new version of one.</summary>
/// <param name="Token">The anti-forgery token.</param>
/// <param name="Key">The idempotency key; another each time the page is loaded.</param>
/// <param name="Page">The page with the form, which shows it again if it is refused.</param>
/// <param name="Refusal">The form that was refused just now; null if none was.</param>
public sealed record BringForm(string Token, string Key, string Page, FormRefusal? Refusal);
