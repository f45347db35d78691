using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Plans;

public sealed class NameRemovalTests
{
    private const string Sentence = "Asha Rowan has 8 h of rest, Ashanti more.";

    private static readonly CandidatePlan Named = Candidate with
    {
        Plan = Worked with { Conflict = [new Breach(RuleId.Rest, new RuleSubject { Person = "p1" }, Sentence)], Notes = [Sentence] },
    };

    [Fact]
    public void A_stored_candidate_holds_marks_and_a_reader_gets_the_names_of_that_moment()
    {
        var stored = Named.WithMarkedNames(Crew);
        Assert.Equal("{person:p1} has 8 h of rest, Ashanti more.", SentenceOf(stored));
        Assert.Equal(Sentence, SentenceOf(stored.WithNames(Crew)));
        Assert.Equal(Sentence, stored.WithNames(Crew).Plan!.Notes[0]);

        var renamed = Crew.With(Crew.Find("p1")! with { Name = "Asha Dale" });
        Assert.StartsWith("Asha Dale has", SentenceOf(stored.WithNames(renamed)));
        Assert.StartsWith("\"p1\" has", SentenceOf(stored.WithNames(Crew.Without("p1"))));
    }

    [Fact]
    public void A_published_plan_names_people_by_id()
    {
        Assert.StartsWith("p1 has", Named.WithMarkedNames(Crew).Plan!.WithoutNames(Crew).Notes[0]);
    }

    [Fact]
    public void A_former_name_is_removed_too()
    {
        var renamed = Crew.With(Crew.Find("p1")! with { Name = "Asha Dale" });
        Assert.StartsWith("{person:p1} has", SentenceOf(Named.WithMarkedNames(renamed)));
        Assert.Empty(renamed.Without("p1").NamesOf("p1"));
    }

    [Theory]
    [InlineData("Asha Rowan forgot the drill.", "p1 forgot the drill.")]
    [InlineData("asha brings it; ROWAN has the key.", "p1 brings it; p1 has the key.")]
    [InlineData("Ashamed of the mess.", "Ashamed of the mess.")]
    public void A_note_loses_each_part_of_the_name(string text, string expected) =>
        Assert.Equal(expected, NameRemoval.WithoutPerson(text, Crew, "p1"));

    private static string SentenceOf(CandidatePlan candidate) => candidate.Plan!.Conflict[0].Sentence;
}
