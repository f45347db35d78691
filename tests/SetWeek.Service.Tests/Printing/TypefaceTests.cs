using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Tests.Printing;

/// <summary>Letters that join, as the charts of Unicode name their forms (from memory).</summary>
public sealed class TypefaceTests
{
    /// <summary>
    /// Meem initial, reh final, yeh initial, meem final; seen initial, lam with alef medial as one, meem alone: alef and reh do not
    /// join what follows them. Vowel marks are left out.
    /// </summary>
    [Theory]
    [InlineData("مريم", "\uFEE3\uFEAE\uFEF3\uFEE2")]
    [InlineData("سلام", "\uFEB3\uFEFC\uFEE1")]
    [InlineData("نُور", "\uFEE7\uFEEE\uFEAD")]
    [InlineData("دو", "\uFEA9\uFEED")]
    public void Arabic_letters_join_their_neighbours(string text, string printed) =>
        Assert.Equal(printed, string.Concat(Typefaces.Runs(text, Face.Text).Select(run => run.Text)));

    [Theory]
    [InlineData("Ask Noor.")]
    [InlineData("Ελένη Παππά")]
    public void Other_letters_stay_as_they_are(string text) =>
        Assert.Equal(text, string.Concat(Typefaces.Runs(text, Face.TextBold).Select(run => run.Text)));
}
