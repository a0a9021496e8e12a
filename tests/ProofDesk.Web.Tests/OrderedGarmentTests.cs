using System.Net;

namespace ProofDesk.Web.Tests;

/// <summary>What the order form says about garments.</summary>
[Collection(OneServer.Name)]
public sealed class OrderedGarmentTests(RunningServer server)
{
    [Fact]
    public async Task A_size_and_a_place_the_garment_does_not_have_are_named_with_those_it_has()
    {
        var form = await server.Staff.GetAsync("/orders/new");
        var fields = RunningServer.OrderFields("a bag with a chest");
        fields["Lines[0].Ground"] = "tote/red";
        fields["Lines[0].Counts[0].Size"] = "3XL";

        var answer = await server.Staff.PostAsync(form, fields, form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains("Canvas tote bag does not come in 3XL; it comes in S, M, L.", answer.Text);
        Assert.Contains("Canvas tote bag has no left chest; it has front, back.", answer.Text);
    }
}
