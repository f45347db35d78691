namespace SetWeek.Domain.Tests;

/// <summary>Ids as words.</summary>
public sealed class IdWordsTests
{
    [Theory]
    [InlineData("step-ladder", "step ladder")]
    [InlineData("anchor.wall", "anchor wall")]
    [InlineData("bolt-2.5", "bolt 2.5")] // the dot is that of a number
    [InlineData("bolt.2.5-mm", "bolt 2.5 mm")]
    [InlineData("lamp.2", "lamp 2")]
    public void Hyphens_and_dots_are_spaces_but_in_a_number(string id, string words) => Assert.Equal(words, IdWords.Spaced(id));
}
