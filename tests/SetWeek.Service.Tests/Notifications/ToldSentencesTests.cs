using SetWeek.Domain.Notifications;
using SetWeek.Service.Pages.Told;

namespace SetWeek.Service.Tests.Notifications;

public sealed class ToldSentencesTests
{
    [Theory]
    [InlineData(0, 0, "Nobody agreed.")]
    [InlineData(3, 0, "3 people agreed.")]
    [InlineData(0, 1, "Nobody agreed; one person cannot come.")]
    [InlineData(1, 2, "One person agreed; 2 people cannot come.")]
    public void It_says_how_many_agreed_and_how_many_cannot_come_if_anybody_cannot(int agreed, int declined, string said) =>
        Assert.Equal(said, ToldSentences.Of(new ToldCounts(
            People: 5, AboutShifts: 5, AtShortNotice: 5, Told: 5, Seen: 5, agreed, declined, Uninformed: 0)).Last());
}
