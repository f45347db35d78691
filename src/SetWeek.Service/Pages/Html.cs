using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;

namespace SetWeek.Service.Pages;

/// <summary>
/// A fragment of HTML. Interpolated values are encoded unless they are fragments themselves, so no call can forget to encode.
/// </summary>
public readonly record struct Html(string Text)
{
    public static Html None { get; } = new("");

    public static Html Of(Writer page) => new(page.Done());

    public override string ToString() => Text;

    [InterpolatedStringHandler]
    public readonly struct Writer(int literalLength, int formattedCount)
    {
        private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

        private readonly StringBuilder text = new(literalLength + 16 * formattedCount);

        public void AppendLiteral(string markup) => text.Append(markup);

        public void AppendFormatted(Html piece) => text.Append(piece.Text);

        public void AppendFormatted(IEnumerable<Html> pieces) => text.AppendJoin('\n', pieces.Select(piece => piece.Text));

        public void AppendFormatted(string? words) => text.Append(Encoder.Encode(words ?? ""));

        public void AppendFormatted(int number) => text.Append(number);

        internal string Done() => text.ToString();
    }
}
