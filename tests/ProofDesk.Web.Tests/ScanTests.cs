using System.Diagnostics;
using System.Net;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Tests;

/// <summary>The square code of a film, asked about before it is burned.</summary>
[Collection(OneServer.Name)]
public sealed class ScanTests(RunningServer server)
{
    [Fact]
    public async Task A_film_is_answered_by_what_stands_about_its_version()
    {
        var (client, review, version) = await server.InvitedClientAsync("to be burned");
        var code = await CodeAsync(version, 2);

        var before = await ScanAsync(code.Text);
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var approved = await ScanAsync(code.Text);
        var order = await server.OrderOfAsync(version);
        var edit = await server.Staff.GetAsync($"/orders/{order.Id}/edit");
        var changed = RunningServer.OrderFields("to be burned");
        changed["WidthMm"] = "42";
        await server.Staff.PostAsync(edit, changed, form: 1);
        await server.SentLinkAsync(await server.FinishedAsync(order.Id));
        var superseded = await ScanAsync(code.Text);

        Assert.Equal("STOP. Not approved", before);
        Assert.Equal("Version 1, approved by Kim Reed, screen 2 of 2", approved);
        Assert.Equal("STOP. Superseded: version 2 is out", superseded);
        client.Dispose();
    }

    [Fact]
    public async Task A_film_of_another_shop_or_another_making_is_stopped()
    {
        var version = await server.RenderedVersionAsync("foreign");
        var code = await CodeAsync(version, 1);

        Assert.Equal("STOP. Not one of our films", await ScanAsync("https://example.com/x"));
        Assert.Equal("STOP. Not one of our films", await ScanAsync((code with { Order = "999999" }).Text));
        Assert.Equal("STOP. Not one of our films", await ScanAsync((code with { Version = "9" }).Text));
        Assert.Equal("STOP. Not the film that was approved", await ScanAsync((code with { Short = "0000-0000" }).Text));
        Assert.Equal("STOP. Not the film that was approved", await ScanAsync((code with { Screen = 7 }).Text));
    }

    [Fact]
    public async Task The_camera_is_allowed_on_the_page_that_scans_and_on_no_other()
    {
        Assert.StartsWith("camera=(self)", (await server.Staff.GetAsync("/scan")).Headers["Permissions-Policy"]);
        Assert.StartsWith("camera=()", (await server.Staff.GetAsync("/desk")).Headers["Permissions-Policy"]);
        Assert.StartsWith("camera=()", (await server.Staff.GetAsync("/nothing")).Headers["Permissions-Policy"]);
        using var stranger = new Visitor(server);
        var closed = await stranger.GetAsync("/scan");
        Assert.Equal(HttpStatusCode.Redirect, closed.Status);
        Assert.StartsWith("camera=()", closed.Headers["Permissions-Policy"]);
    }

    [Fact]
    public async Task The_packet_answers_without_the_server()
    {
        var (client, review, version) = await server.InvitedClientAsync("offline");
        var decided = await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var packet = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.zip");
        await File.WriteAllBytesAsync(packet, (await client.GetAsync(decided.Location + "/packet.zip")).Bytes);
        var code = await CodeAsync(version, 2);
        var order = (await server.OrderOfAsync(version)).Number;

        var right = await CommandAsync(packet, code.Text);
        var other = await CommandAsync(packet, (code with { Version = "2" }).Text);
        var changed = await CommandAsync(packet, (code with { Short = "0000-0000" }).Text);
        File.Delete(packet);

        Assert.Equal(0, right.Exit);
        Assert.StartsWith("version 1, approved by Kim Reed, screen 2 of 2: ", right.Text);
        Assert.EndsWith("as of this packet; whether a newer version is out only the shop's server knows\n", right.Text);
        Assert.Equal(
            (1, $"STOP: the film is of order {order}, version 2; the packet is of order {order}, version 1\n"),
            other
        );
        Assert.Equal((1, $"STOP: version 1 has no film left chest, screen 2, 0000-0000\n"), changed);
        client.Dispose();
    }

    private async Task<string> ScanAsync(string code) =>
        (await server.Staff.GetAsync("/scan?code=" + Uri.EscapeDataString(code))).Title;

    private async Task<FilmCode> CodeAsync(Guid version, int screen)
    {
        await using var scope = server.App.Services.CreateAsyncScope();
        var read = await scope.ServiceProvider.GetRequiredService<VersionReader>().FindAsync(version, default);
        var print = read!.Summary.Prints[0];
        return new FilmCode(
            $"{read.Order.Number}",
            print.Name,
            $"{read.Version.Number}",
            screen,
            FilmCode.ShortOf(print.Plates[screen - 1].Sha256)
        );
    }

    private static async Task<(int Exit, string Text)> CommandAsync(string packet, string code)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true };
        foreach (var word in new[] { Path.Combine(AppContext.BaseDirectory, "proofdesk.dll"), "scan", packet, code })
            start.ArgumentList.Add(word);
        using var process = Process.Start(start)!;
        var text = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, text.ReplaceLineEndings("\n"));
    }
}
