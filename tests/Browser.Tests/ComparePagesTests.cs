using Microsoft.Playwright;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A desk with one finished sheet: nothing is rendered.</summary>
public sealed class CompareServer : RunningServer
{
    public Guid Sheet { get; private set; }

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        var picture = new RgbPicture(360, 270, 2);
        for (var y = 0; y < picture.Height; y++)
        {
            var row = picture.Row(y);
            for (var x = 0; x < picture.Width; x++)
                row[3 * x + (x * 3 / picture.Width)] = 200;
        }
        var png = ProofDesk.Adapters.Codecs.PictureWriter.Png(picture);
        var blob = await Service<IFileStore>().PutAsync(new MemoryStream(png));
        var sheet = CompareSheets.Of(null, blob.Sha256);
        sheet.Cells.Add(
            new SheetCell
            {
                Position = 2,
                Method = "vinyl",
                GarmentId = "tee",
                ColourId = "white",
                State = CellState.Failed,
                Error = "the disk was full",
            }
        );
        await Service<SheetBook>().AddAsync(sheet, "test");
        Sheet = sheet.Id;
    }
}

/// <summary>The pages of the compare sheet before <see cref="PageJudge"/>, and the way of a visitor through them.</summary>
public sealed class ComparePagesTests(CompareServer server) : IClassFixture<CompareServer>, IAsyncLifetime
{
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.LaunchChromiumAsync();
    }

    public async Task DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }

    [Fact]
    public async Task The_desk_makes_a_link_and_its_holder_marks_what_he_likes_best()
    {
        var desk = await PageAsync();
        await desk.SignInAsync(server.Address);
        await desk.WaitForURLAsync("**/desk");
        var judge = new PageJudge(desk, server.Address);
        await judge.OpenAsync("/compare", "compare");
        await judge.OpenAsync("/compare/new", "compare-new");
        await judge.OpenAsync($"/compare/{server.Sheet}", "compare-sheet");
        await desk.FillAsync("#ForWhom", "the crew");
        await desk.GetByRole(AriaRole.Button, new() { Name = "Make a link" }).ClickAsync();
        var link = await desk.InnerTextAsync(".new-link");
        await judge.JudgeAsync("compare-link");

        var visitor = await PageAsync();
        await visitor.GotoAsync(new Uri(server.Address, new Uri(link).AbsolutePath).ToString());
        var outside = new PageJudge(visitor, server.Address);
        await outside.JudgeAsync("compared");
        // By keyboard alone: the mark, the name, the button.
        await visitor.FocusAsync("input[name=Cell]");
        await visitor.Keyboard.PressAsync("Space");
        await visitor.FocusAsync("#Name");
        await visitor.Keyboard.TypeAsync("Kim Reed");
        await visitor.Keyboard.PressAsync("Enter");
        await visitor.WaitForSelectorAsync("#said");
        await outside.JudgeAsync("compared-said");
        await desk.GotoAsync(new Uri(server.Address, $"/compare/{server.Sheet}").ToString());

        Assert.Contains("Kim Reed", await desk.InnerTextAsync("main"));
        Assert.Contains("1 person likes this one best", await desk.InnerTextAsync("main"));
        await judge.JudgeAsync("compare-liked");
        await visitor.SetViewportSizeAsync(320, 800);
        Assert.False(await visitor.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"));
    }

    private async Task<IPage> PageAsync()
    {
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        return await context.NewPageAsync();
    }
}
