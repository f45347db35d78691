using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;

namespace SetWeek.Service.Pages;

/// <summary>
/// A piece of a page. What is put into it is encoded, unless it is a piece of a page itself: forgetting is not possible.
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
