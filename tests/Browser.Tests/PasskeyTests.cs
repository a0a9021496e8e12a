using System.Net;
using System.Net.Sockets;
using Microsoft.Playwright;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>Passkeys belong to a name, so this server is called localhost.</summary>
public sealed class NamedServer : RunningServer
{
    private readonly int port = FreePort();

    public Uri Named => new($"http://localhost:{port}");

    protected override IEnumerable<string> Settings =>
        [$"--Kestrel:Endpoints:Http:Url=http://127.0.0.1:{port}", $"--Server:PublicBaseUrl=http://localhost:{port}"];

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

/// <summary>A passkey from end to end, with the virtual authenticator of the DevTools protocol.</summary>
public sealed class PasskeyTests(NamedServer server) : IClassFixture<NamedServer>
{
    [Fact]
    public async Task A_passkey_signs_in_at_this_desk_and_an_answer_given_to_another_page_does_not()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var context = await browser.NewContextAsync(new() { BaseURL = server.Named.ToString() });
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        await AddAuthenticatorAsync(context, page);
        var judge = new PageJudge(page, server.Named);
        await SignInAsync(page);

        await page.GotoAsync("/account/passkeys");
        await page.FillAsync("#Name", "work telephone");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await page.Locator("input[value='work telephone']").WaitForAsync();
        await judge.JudgeAsync("account-passkeys");
        await page.Locator("table input[name=Name]").FillAsync("blue key");
        await page.GetByRole(AriaRole.Button, new() { Name = "Rename" }).ClickAsync();
        await page.Locator("input[value='blue key']").WaitForAsync();
        await page.GotoAsync("/account/again?then=%2Faccount");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use a passkey" }).ClickAsync();
        await page.WaitForURLAsync("**/account");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Use a passkey" }).ClickAsync();
        await page.WaitForURLAsync("**/desk");
        await page.GotoAsync("/account/passkeys");
        Assert.Equal(0, await page.GetByText("never").CountAsync());
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();

        // The same question, answered by the same authenticator, on a page that is not ours.
        var question = await page.EvaluateAsync<string>(
            "async () => { const form = document.querySelector('form[data-passkey]'); const answer = await fetch('/sign-in/passkey/options', "
                + "{ method: 'POST', headers: { RequestVerificationToken: form.elements.__RequestVerificationToken.value } }); return answer.text(); }"
        );
        await context.RouteAsync(
            "http://localhost:18080/**",
            route => route.FulfillAsync(new() { ContentType = "text/html", Body = "<title>not ours</title>" })
        );
        await page.GotoAsync("http://localhost:18080/");
        var answer = await page.EvaluateAsync<string>(
            "async (question) => JSON.stringify(await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(JSON.parse(question)) }))",
            question
        );
        await page.GotoAsync(server.Named + "sign-in");
        await page.EvaluateAsync(
            "(answer) => { const form = document.querySelector('form[data-passkey]'); form.elements.Credential.value = answer; form.submit(); }",
            answer
        );
        await page.GetByText("This passkey does not open the desk").WaitForAsync();
        await page.GotoAsync("/desk");
        Assert.EndsWith("/sign-in", page.Url);

        await SignInAsync(page);
        await page.GotoAsync("/account/passkeys");
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove blue key" }).ClickAsync();
        await page.GetByText("None yet.").WaitForAsync();
    }

    private static async Task AddAuthenticatorAsync(IBrowserContext context, IPage page)
    {
        var tools = await context.NewCDPSessionAsync(page);
        await tools.SendAsync("WebAuthn.enable");
        await tools.SendAsync(
            "WebAuthn.addVirtualAuthenticator",
            new()
            {
                ["options"] = new Dictionary<string, object>
                {
                    ["protocol"] = "ctap2",
                    ["transport"] = "internal",
                    ["hasResidentKey"] = true,
                    ["hasUserVerification"] = true,
                    ["isUserVerified"] = true,
                    ["automaticPresenceSimulation"] = true,
                },
            }
        );
    }

    private static async Task SignInAsync(IPage page)
    {
        await page.GotoAsync("/sign-in");
        await page.FillAsync("#Email", "owner@lindhag.example");
        await page.FillAsync("#Password", RunningServer.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await page.WaitForURLAsync("**/desk");
    }
}
