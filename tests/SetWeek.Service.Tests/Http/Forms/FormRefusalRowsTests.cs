using SetWeek.Model.Json;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>The body has no row that was left out, so a fault of a later row names a smaller number than its field.</summary>
public sealed class FormRefusalRowsTests
{
    private const string Pointer = "/modes/1/roles/0/count";

    [Theory]
    [InlineData("modes[2].roles[4].count:number", true)]
    [InlineData("modes[2].roles[3].count:number", false)]
    [InlineData("modes[0].roles[0].count:number", false)]
    public void A_fault_of_a_row_in_a_row_stands_beside_its_field(string field, bool hasFault)
    {
        var refusal = new FormRefusal("/tasks", 400, "Wrong", [], [new Fault(Pointer, "a number is needed")], new Dictionary<string, IReadOnlyList<string>>
        {
            ["modes[0].id"] = ["alone"], ["modes[0].roles[0].skill:row"] = ["paint"], ["modes[0].roles[0].count:number"] = ["1"],
            ["modes[1].id:row"] = [""], ["modes[1].roles[0].count:number"] = ["1"],
            ["modes[2].id"] = ["together"], ["modes[2].roles[3].skill:row"] = [""], ["modes[2].roles[3].count:number"] = ["2"],
            ["modes[2].roles[4].skill:row"] = ["ladder"], ["modes[2].roles[4].count:number"] = ["two"],
        });
        Assert.Equal(hasFault, refusal.FaultsOf(field).Any());
    }
}
