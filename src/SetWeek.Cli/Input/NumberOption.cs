using System.Globalization;

namespace SetWeek.Cli.Input;

/// <summary>
/// A numeric option as typed. Each command parses it while it validates its options, because the parser's own message names
/// neither the option nor a valid value.
/// </summary>
internal sealed record NumberOption(string Text)
{
    /// <exception cref="FormatException">The text is no whole number; <see cref="WholeFault"/> reports that first.</exception>
    public int Whole => int.Parse(Text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);

    /// <exception cref="FormatException">The text is no number; <see cref="Fault"/> reports that first.</exception>
    public double Number => double.Parse(Text, NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>The error message for a value that is no whole number from min to max; null for a valid or absent one.</summary>
    public static string? WholeFault(string option, NumberOption? given, int min, int max, int example) =>
        given is null ? null
        : !Int128.TryParse(given.Text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number)
            ? $"{option} needs a whole number, for example {example}."
        : number < min || number > max ? $"{option} needs a whole number from {min} to {max}." : null;

    /// <summary>
    /// The error message for a value that is no number above 0 and at most max; null for a valid or absent one.
    /// </summary>
    public static string? Fault(string option, NumberOption? given, int max, int example) =>
        given is null ? null
        // The parser reads "NaN" and "Infinity" too.
        : !double.TryParse(given.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            || !double.IsFinite(number)
            ? $"{option} needs a number, for example {example}."
        : number > 0 && number <= max ? null : $"{option} needs a number above 0 and at most {max}.";

    public override string ToString() => Text;
}
