using System.Globalization;

namespace SetWeek.Service.Words;

/// <summary>Formats amounts in minor units. The number of decimals is that of ISO 4217 (from memory).</summary>
public static class Money
{
    private static readonly string[] NoDecimals =
        ["BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"];

    private static readonly string[] ThreeDecimals = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

    public static string Of(long minor, string currency)
    {
        var digits = NoDecimals.Contains(currency) ? 0 : ThreeDecimals.Contains(currency) ? 3 : 2;
        var amount = minor / (decimal)Math.Pow(10, digits);
        var figures = Math.Abs(amount).ToString($"N{digits}", CultureInfo.InvariantCulture);
        return (amount < 0 ? "-" : "") + (Symbol(currency) ?? $"{currency} ") + figures;
    }

    private static string? Symbol(string currency) => currency switch
    {
        "GBP" => "£",
        "EUR" => "€",
        "USD" => "$",
        _ => null,
    };
}
