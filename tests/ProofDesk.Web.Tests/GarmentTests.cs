using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Tests.Photographs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tests;

/// <summary>The shop's own garments: measured on a photograph or written into a copy of one that ships, kept in versions, pinned by proofs.</summary>
[Collection(OneServer.Name)]
public sealed class GarmentTests(RunningServer server)
{
    private const string Marks =
        "Ax=10&Ay=90&Bx=90&By=90&Mm=444.4&Cx=90&Cy=10&Dx=90&Dy=90&Mm2=497.8&Sx=50&Sy=10&Ex=50&Ey=90&Area=9+9%3B+91+91";

    [Fact]
    public async Task A_photograph_is_pressed_measured_accepted_ordered_and_printed_on()
    {
        var photo = await UploadAsync(DrawnPhoto.Usual);
        // 640 px wide on the page, so 560 of 500 px are 716 high: the press at 64, 645 is at 10 and 90.08 percent.
        var pressed = await server.Staff.GetAsync($"{photo}?Next=a&Show=640&At.X=64&At.Y=645");
        var second = await server.Staff.GetAsync($"{photo}?Next=area&Area=9+9&Show=340&At.X=309&At.Y=346");
        var undone = await server.Staff.GetAsync($"{photo}?Next=area&Area=9+9%3B+91+91&Undo=true");
        var empty = await server.Staff.GetAsync(photo);
        var page = await server.Staff.GetAsync($"{photo}?{Marks}");
        var marked = await server.Staff.GetAsync($"{photo}/marked.png?{Marks}");
        var trial = await server.Staff.GetAsync($"{photo}/trial.png?{Marks}");
        var kept = await server.Staff.PostAsync(
            page,
            new()
            {
                ["Name"] = "Quay tee",
                ["Size"] = "M",
                ["Side"] = "front",
                ["Colour"] = "Quay blue",
                ["Cotton"] = "100",
                ["Cloth"] = "jersey",
            },
            form: 1
        );
        var shown = await server.Staff.GetAsync(kept.Location!);
        var picture = await server.Staff.GetAsync("/garments/own-quay-tee/quay-blue.png");

        Assert.Equal($"{photo}?Ax=10&Ay=90.08&Tolerance=20&Next=b&Show=640", pressed.Location);
        Assert.Equal($"{photo}?Tolerance=20&Area=9%209%3B%2090.88%2091.05&Next=area&Show=340", second.Location);
        Assert.Equal($"{photo}?Tolerance=20&Area=9%209&Next=area&Show=640", undone.Location);
        Assert.Contains(
            "Still missing: both ends of the tape; the millimetres between them; the middle of the collar seam; a second point of the centre line; the corners of the garment: two of a rectangle, or all of them.",
            empty.Text
        );
        Assert.Contains("<dt>Scale</dt><dd>0.90 px a mm</dd>", page.Text);
        Assert.Contains("<dt>Tapes</dt><dd>disagree by 0.0 %; perspective is not corrected</dd>", page.Text);
        Assert.Matches("Lab 5[789]\\.\\d -[4-8]\\.\\d -2[0-4]\\.\\d, photographed, not measured</dd>", page.Text);
        Assert.All([marked, trial, picture], p => Assert.Equal("image/png", p.Headers["Content-Type"]));
        Assert.Equal((HttpStatusCode.Redirect, "/garments/own-quay-tee"), (kept.Status, kept.Location));
        Assert.Contains("<dt>Photograph</dt><dd>500 × 560 px, 0.9 px a mm</dd>", shown.Text);
        Assert.Contains("class photographed</span>", shown.Text);

        var order = await OrderAsync("quay", "own-quay-tee/quay-blue");
        var version = await server.FinishedAsync(order);
        var (json, manifest) = await server.ReadAsync(async db =>
        {
            var row = await db.ProofVersions.AsNoTracking().SingleAsync(v => v.Id == version);
            return (row.RequestJson, System.Text.Encoding.UTF8.GetString(row.ManifestBytes!));
        });
        var proof = await server.Staff.GetAsync($"/versions/{version}");
        var request = await RequestAsync(json);
        Assert.Contains("\"garmentId\":\"own-quay-tee@1\"", json);
        Assert.Contains("/inputs/garment-own-quay-tee-front.png", manifest);
        Assert.Contains(photo.Split('/')[^1], manifest);
        Assert.Contains("data class Photographed", proof.Text);
        Assert.Equal(
            (500, 560),
            (Photo(request.Grounds[0].Garment).Width, Photo(request.Grounds[0].Garment).Pixels!.Height)
        );

        // Off the form once it is out of use; the order keeps it.
        var retired = await server.Staff.PostAsync(shown, [], form: 2);
        var form = await server.Staff.GetAsync("/orders/new");
        var again = await server.Staff.GetAsync($"/orders/{order}");
        Assert.Equal("/garments", retired.Location);
        Assert.DoesNotContain("own-quay-tee/quay-blue", form.Text);
        Assert.Contains("Quay tee, Quay blue", again.Text);
        Assert.Equal("own-quay-tee", (await RequestAsync(json)).Grounds[0].Garment.Id);
    }

    [Fact]
    public async Task What_is_no_photograph_or_cannot_be_measured_is_refused_in_words_with_numbers()
    {
        var nothing = await server.Staff.PostAsync(await server.Staff.GetAsync("/garments/photographs"), [], form: 1);
        var drawing = await SendAsync("mark.svg", System.Text.Encoding.UTF8.GetBytes(RunningServer.SmallMark));
        var small = await SendAsync("small.png", PictureWriter.Png(new DrawnPhoto(640, 400, 1).Draw()));
        var dark = await UploadAsync(DrawnPhoto.Usual with { Exposure = 0.004 });
        var page = await server.Staff.GetAsync($"{dark}?{Marks}");
        var aslant = await server.Staff.GetAsync($"{dark}?{Marks.Replace("Mm2=497.8", "Mm2=440")}");
        var forced = await PostAcceptAsync(dark, $"{Marks}&Name=Dark");
        var unnamed = await PostAcceptAsync(dark, "Ax=10&Area=1+2+3&L=40");

        Assert.Equal(HttpStatusCode.UnprocessableEntity, nothing.Status);
        Assert.Contains("Choose a photograph: JPEG, PNG, TIFF or WebP.", nothing.Text);
        Assert.Contains(
            "This is a svg file; a photograph is a jpeg, png, tiff or webp file. Send the picture as the camera saved it.",
            drawing.Text
        );
        Assert.Contains(
            "The photograph is 640 x 400 px, its shorter side needs 500. Send the picture as large as the camera saved it, not a preview of it.",
            small.Text
        );
        Assert.Contains(
            "half of the marked area is darker than 3 of 255, 12 is needed: its folds cannot be told from noise. photograph it with more light",
            page.Text
        );
        Assert.DoesNotContain("Accept it as a garment", page.Text);
        Assert.Contains("the two tapes disagree by 12.3 %, 8 is the most", aslant.Text);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, forced.Status);
        Assert.Contains("Half of the marked area is darker than 3 of 255", forced.Text);
        Assert.Contains("Give the garment a name.", unnamed.Text);
        Assert.Contains("Still missing: the middle of the collar seam.", unnamed.Text);
        Assert.Contains(
            "&quot;1 2 3&quot; is no corner: write two numbers from 0 to 100 for each, with a semicolon between corners.",
            unnamed.Text
        );
        Assert.Contains("A Lab colour has three numbers: L*, a* and b*.", unnamed.Text);
        var never = await server.Staff.GetAsync($"/garments/photographs/{new string('0', 64)}");
        Assert.Equal(HttpStatusCode.NotFound, never.Status);
    }

    [Fact]
    public async Task A_garment_that_ships_is_taken_over_changed_and_keeps_its_history()
    {
        var shipped = await server.Staff.GetAsync("/garments/tee");
        var start = await server.Staff.GetAsync("/garments/new?from=tee");
        var fields = Fields(start);
        fields["Name"] = "Club tee";
        var made = await server.Staff.PostAsync(start, fields, form: 1);
        var page = await server.Staff.GetAsync(made.Location!);
        fields = Fields(page);
        fields["Sizes[0].ChestMm"] = "470";
        fields["Colours[0].Name"] = "Club white";
        fields["Colours[0].Cloth"] = "lab";
        fields["Colours[0].L"] = "93";
        fields["Colours[0].A"] = "0.5";
        fields["Colours[0].B"] = "-3";
        fields["Colours[0].Class"] = "A";
        fields["Places[0].Width"] = "1 chest - 120";
        var changed = await server.Staff.PostAsync(page, fields, form: 1);
        var second = await server.Staff.GetAsync("/garments/own-club-tee");
        var late = await server.Staff.PostAsync(page, fields, form: 1);
        var garment = server.Service<Wardrobe.ShopGarments>().Find("own-club-tee")!.Garment;
        var before = server.Service<Wardrobe.ShopGarments>().Find("own-club-tee@1")!.Garment;

        Assert.Contains("Came with the desk and is not changed.", shipped.Text);
        Assert.DoesNotContain("Keep it as the next version", shipped.Text);
        Assert.Equal("/garments/own-club-tee", made.Location);
        Assert.Equal("/garments/own-club-tee", changed.Location);
        Assert.Equal(
            (470, "Club white", DataClass.A),
            (garment.Sizes[0].ChestMm, garment.Colours[0].Name, garment.Colours[0].DataClass)
        );
        Assert.Equal(350, garment.Shape!.Anchor(Printing.Artworks.Place.Front)!.Area!.Width.Of(garment.Sizes[0]));
        Assert.Equal("White", before.Colours[0].Name);
        Assert.Equal(before.Colours.Length, garment.Colours.Length);
        Assert.Equal(before.Shape!.Views[0].Obstacles.Length, garment.Shape.Views[0].Obstacles.Length);
        Assert.Equal(HttpStatusCode.Conflict, late.Status);
        Assert.Matches("(?s)<td class=\"r\">2</td>.*<td class=\"r\">1</td>", second.Text);
    }

    [Fact]
    public async Task What_a_garment_cannot_be_stays_on_the_page_with_what_is_needed()
    {
        var start = await server.Staff.GetAsync("/garments/new?from=youth-tee");
        var fields = Fields(start);
        fields["Name"] = "Wrong tee";
        fields["Sizes[0].ChestMm"] = "";
        fields["Colours[0].Cotton"] = "90";
        fields["Colours[0].Source"] = "";
        fields["Colours[1].Dyes"] = "indigo";
        var several = await server.Staff.PostAsync(start, fields, form: 1);
        fields = Fields(start);
        fields["Name"] = "Wrong tee";
        fields["Places[0].Width"] = "1 hip";
        var measure = await server.Staff.PostAsync(start, fields, form: 1);
        fields["Places[0].Width"] = "";
        var spare = fields.Keys.Count(k => k.EndsWith("].Outline", StringComparison.Ordinal)) - 1;
        fields[$"Obstacles[{spare}].Outline"] = "M 0 0\nL 10 0";
        var nameless = await server.Staff.PostAsync(start, fields, form: 1);
        fields[$"Obstacles[{spare}].Outline"] = "";
        fields["Places[0].Width"] = "1e400";
        var endless = await server.Staff.PostAsync(start, fields, form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, several.Status);
        Assert.Contains("Size XS: half chest and length are needed, in mm.", several.Text);
        Assert.Matches(": the fibres add up to 90 %, 100 % is needed\\.", several.Text);
        Assert.Contains(": say where the colour comes from.", several.Text);
        Assert.Contains("is no dye with its strength", several.Text);
        Assert.Contains("value=\"Wrong tee\"", several.Text);
        Assert.Matches("Place 1, area, width: &quot;hip&quot; is no measure; known are chest, length", measure.Text);
        Assert.Contains(
            $"Obstacles, row {spare + 1}: give it a name, or empty the row; a row without a name is left out.",
            nameless.Text
        );
        Assert.Contains("is outside -10000 to 10000", endless.Text);
    }

    private static GarmentPhotograph Photo(Garment garment) => garment.Shape!.Views[0].Photograph!;

    private async Task<string> UploadAsync(DrawnPhoto photo)
    {
        var sent = await SendAsync("photo.png", PictureWriter.Png(photo.Draw()));
        Assert.Equal(HttpStatusCode.Redirect, sent.Status);
        return sent.Location!;
    }

    private async Task<Page> SendAsync(string name, byte[] bytes)
    {
        var form = (await server.Staff.GetAsync("/garments/photographs")).Forms[1];
        var parts = new MultipartFormDataContent();
        foreach (var (field, value) in form.Hidden)
            parts.Add(new StringContent(value), field);
        parts.Add(new ByteArrayContent(bytes), "photo", name);
        return await server.Staff.SendAsync(new(HttpMethod.Post, form.Action) { Content = parts });
    }

    /// <summary>The last button, pressed without the page that has it.</summary>
    private async Task<Page> PostAcceptAsync(string photo, string fields)
    {
        var page = await server.Staff.GetAsync("/garments/photographs");
        var all = fields.Split('&').Select(f => f.Split('=')).ToDictionary(f => f[0], f => WebUtility.UrlDecode(f[1]));
        return await server.Staff.PostAsync(page, all, form: 1, action: $"{photo}/garment");
    }

    private async Task<Guid> OrderAsync(string title, string ground)
    {
        var form = await server.Staff.GetAsync("/orders/new");
        var fields = RunningServer.OrderFields(title);
        fields["Lines[0].Ground"] = ground;
        var made = await server.Staff.PostAsync(
            form,
            fields,
            form: 1,
            file: ("Art", "mark.svg", RunningServer.SmallMark)
        );
        Assert.Equal(HttpStatusCode.Redirect, made.Status);
        return Guid.Parse(made.Location!.Split('/')[^1]);
    }

    private async Task<Printing.Proofs.ProofRequest> RequestAsync(string json)
    {
        await using var scope = server.App.Services.CreateAsyncScope();
        var order = ProofOrder.FromJson(json);
        return await scope
            .ServiceProvider.GetRequiredService<ProofRequests>()
            .OfAsync(order, order.Prints[0], CancellationToken.None);
    }

    /// <summary>All fields of the page's second form as they stand.</summary>
    private static Dictionary<string, string> Fields(Page page)
    {
        var form = Regex
            .Matches(page.Text, "<form[^>]*method=\"post\"[^>]*>(.*?)</form>", RegexOptions.Singleline)[1]
            .Value;
        var fields = new Dictionary<string, string>();
        foreach (Match input in Regex.Matches(form, "<input[^>]*>"))
            if (Attribute(input.Value, "name") is { Length: > 0 } name)
                fields[name] = Attribute(input.Value, "value");
        foreach (Match area in Regex.Matches(form, "(<textarea[^>]*>)(.*?)</textarea>", RegexOptions.Singleline))
            fields[Attribute(area.Groups[1].Value, "name")] = WebUtility.HtmlDecode(area.Groups[2].Value);
        foreach (Match select in Regex.Matches(form, "(<select[^>]*>)(.*?)</select>", RegexOptions.Singleline))
            fields[Attribute(select.Groups[1].Value, "name")] = Attribute(
                Regex.Match(select.Groups[2].Value, "<option[^>]*selected[^>]*>").Value,
                "value"
            );
        return fields;
    }

    private static string Attribute(string tag, string name) =>
        WebUtility.HtmlDecode(Regex.Match(tag, $"\\b{name}=\"([^\"]*)\"").Groups[1].Value);
}
