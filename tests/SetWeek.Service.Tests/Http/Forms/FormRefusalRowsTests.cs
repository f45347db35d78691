using SetWeek.Model.Json;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>The body has no row that was left out, so a fault of a later row names a smaller number than its field.</summary>
public sealed class FormRefusalRowsTests
{
    [Theory]
    [InlineData("/modes/1/roles/0/count", "modes[2].roles[4].count:number")]
    [InlineData("/modes/1/roles/0")] // of the row itself
    [InlineData("/modes/0/roles/0/count", "modes[0].roles[0].count:number")]
    [InlineData("/modes/1/note", "modes[2].note")] // an empty field of a row that is there
    [InlineData("/modes/2/note")] // nothing was typed in the last row
    [InlineData("/lines/0/damaged", "lines[1].damaged:row-number")] // its number keeps the row
    [InlineData("/lines/1/answer", "lines[2].answer:row")] // its text keeps the row
    [InlineData("/skills/a.b~1c", "skills.a%2Eb%2Fc")]
    [InlineData("/skills/x.y", ":skill")] // the field that names it
    [InlineData("/modes")]
    public void A_fault_of_a_row_in_a_row_stands_beside_its_field(string pointer, params string[] fields)
    {
        var post = FormPost.Of([.. new[]
        {
            ("modes[0].id", "alone"), ("modes[0].roles[0].skill:row", "paint"), ("modes[0].roles[0].count:number", "1"),
            ("modes[1].id:row", ""), ("modes[1].roles[0].count:number", "1"),
            ("modes[2].id", "together"), ("modes[2].note", ""), ("modes[2].roles[3].skill:row", ""), ("modes[2].roles[3].count:number", "2"),
            ("modes[2].roles[4].skill:row", "ladder"), ("modes[2].roles[4].count:number", "two"), ("modes[3].note", ""),
            ("lines[0].answer:row", ""), ("lines[0].damaged:row-number", ""), ("lines[1].answer:row", ""), ("lines[1].damaged:row-number", "x"),
            ("lines[2].answer:row", ""), ("lines[2].why:row-text", "x"),
            ("skills.a%2Eb%2Fc", "5"), (":skill", "x.y"), ("skills.{:skill}:number", "5"), (":key", "k"),
        }.Select(field => KeyValuePair.Create(field.Item1, (IReadOnlyList<string>)[field.Item2]))], () => default);
        var refusal = new FormRefusal("/tasks", 400, "Wrong", [], [new Fault(pointer, "a number is needed")], post.Typed)
        {
            Pointers = post.Pointers,
        };
        Assert.Equal(fields, post.Typed.Keys.Where(field => refusal.FaultsOf(field).Any()));
    }
}
