using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Printing.Proofs;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Wardrobe;

/// <summary>From a photograph to a garment: upload, measure, look at what was taken for cloth, accept.</summary>
[Needs(Right.KeepMeans)]
[Route("/garments/photographs")]
public sealed class PhotographsController(Photographs photographs, ShopGarments garments) : Controller
{
    private const string Digest = "{sha256}";

    [HttpGet("")]
    public IActionResult New() => View("Upload");

    [HttpPost("")]
    public async Task<IActionResult> Create(IFormFile? photo, CancellationToken cancel)
    {
        if (photo is not { Length: > 0 })
        {
            ModelState.AddModelError(
                "Photo",
                photo is null ? "Choose a photograph: JPEG, PNG, TIFF or WebP." : "The file is empty."
            );
        }
        else
        {
            try
            {
                return Redirect($"/garments/photographs/{await photographs.KeepAsync(photo, cancel)}");
            }
            catch (UnreadableArt unreadable)
            {
                ModelState.AddModelError(
                    "Photo",
                    $"{Words.Sentence(unreadable.What)} {Words.Sentence(unreadable.NextStep)}"
                );
            }
        }
        this.ToMend();
        return View("Upload");
    }

    [HttpGet(Digest)]
    public async Task<IActionResult> Show(string sha256, PhotographedForm form, CancellationToken cancel)
    {
        if (await photographs.FindAsync(sha256, cancel) is not { } photo)
            return NotFound();
        if (form.At is { X: not null, Y: not null } || form.Undo)
        {
            form.Press(ShownHeight(photo, form));
            return Redirect($"/garments/photographs/{sha256}{form.Query()}");
        }
        CheckArea(form);
        return View("Photograph", Page(sha256, photo, form));
    }

    /// <summary>The photograph with the marks on it, twice as fine as it is shown.</summary>
    [HttpGet(Digest + "/marked.png")]
    public async Task<IActionResult> Marked(string sha256, PhotographForm form, CancellationToken cancel)
    {
        if (await photographs.FindAsync(sha256, cancel) is not { } photo)
            return NotFound();
        var cloth = Measure(sha256, photo, form)?.Reading?.Cloth;
        return File(
            PictureWriter.Png(MarkedPicture.Draw(photo, form, cloth, 2 * form.ShownWidth), int.MaxValue),
            "image/png"
        );
    }

    /// <summary>A ruled square of 200 mm as it would lie on the cloth; the marks alone while one of them is missing.</summary>
    [HttpGet(Digest + "/trial.png")]
    public async Task<IActionResult> Trial(string sha256, PhotographForm form, CancellationToken cancel)
    {
        if (await photographs.FindAsync(sha256, cancel) is not { } photo)
            return NotFound();
        return Measure(sha256, photo, form)?.Reading is { } reading
            ? File(PictureWriter.Png(PhotographTrial.Draw(photo, reading), 1200), "image/png")
            : await Marked(sha256, form, cancel);
    }

    [HttpPost(Digest + "/garment")]
    public async Task<IActionResult> Accept(string sha256, PhotographedForm form, CancellationToken cancel)
    {
        if (await photographs.FindAsync(sha256, cancel) is not { } photo)
            return NotFound();
        CheckArea(form);
        var key = Inks.InkForms.KeyOf(form.Name ?? "");
        if (string.IsNullOrWhiteSpace(form.Name))
            ModelState.AddModelError(nameof(form.Name), "Give the garment a name.");
        Devices.DevicesController.CheckKey(
            ModelState,
            form.Name,
            key,
            key.Length > 0 && (await garments.HistoryAsync(key, cancel)).Count > 0,
            "garment"
        );
        foreach (var missing in form.Missing())
            ModelState.AddModelError("", $"Still missing: {missing}.");
        var measured = Measure(sha256, photo, form);
        foreach (var refused in measured?.Findings.Where(f => f.Weight == FindingWeight.Refusal) ?? [])
            ModelState.AddModelError("", $"{Words.Sentence(refused.Message)} {Words.Sentence(refused.NextStep)}");
        double?[] lab = [form.L, form.A, form.B];
        if (lab.Count(v => v is not null) is 1 or 2)
            ModelState.AddModelError(nameof(form.L), "A Lab colour has three numbers: L*, a* and b*.");
        if (ModelState.IsValid && measured?.Reading is { } reading && form.Marks(photo) is { } marks)
        {
            var file = FileOf(sha256, photo, key, form, marks, reading);
            if (file is not null && await garments.WriteAsync(key, file, 0, User.Identity!.Name!, cancel) is not null)
                return Redirect($"/garments/{ShopGarments.Prefix}{key}");
        }
        return this.Again("Photograph", Page(sha256, photo, form));
    }

    /// <summary>The garment file; null when it is not as it must be, which is said at the field.</summary>
    private byte[]? FileOf(
        string sha256,
        RgbPicture photo,
        string key,
        PhotographedForm form,
        PhotoMarks marks,
        PhotoReading reading
    )
    {
        var side = form.Side == "back" ? GarmentSide.Back : GarmentSide.Front;
        var file = new PhotographedGarment(
            ShopGarments.Prefix + key,
            form.Name!.Trim(),
            form.Size?.Trim() ?? "",
            side,
            string.IsNullOrWhiteSpace(form.Colour) ? "As photographed" : form.Colour.Trim(),
            form.Fibres,
            ClothKind.All.FirstOrDefault(k => k.Id == form.Cloth) ?? ClothKind.All[0],
            form is { L: { } l, A: { } a, B: { } b } ? new(l, a, b) : null,
            new($"{form.Side}.png", sha256, photo.Width, photo.Height, marks)
            {
                FileName = side == GarmentSide.Back ? "back.png" : "front.png",
            }
        ).Write(reading);
        try
        {
            GarmentCatalogue.Read(file);
            return file;
        }
        catch (GarmentFormatException problem)
        {
            ModelState.AddModelError(FieldOf(problem.Field), GarmentWords.Sentence(problem));
            return null;
        }
    }

    private static string FieldOf(string path) =>
        path.Contains("fibres", StringComparison.Ordinal) ? nameof(PhotographedForm.Cotton)
        : path.Contains(".lab", StringComparison.Ordinal) ? nameof(PhotographedForm.L)
        : path.StartsWith("sizes", StringComparison.Ordinal) ? nameof(PhotographedForm.Size)
        : "";

    private void CheckArea(PhotographForm form)
    {
        form.Corners(out var wrong);
        if (wrong is not null)
            ModelState.AddModelError(
                nameof(form.Area),
                $"\"{wrong}\" is no corner: write two numbers from 0 to 100 for each, with a semicolon between corners."
            );
    }

    private MeasuredPhotograph? Measure(string sha256, RgbPicture photo, PhotographForm form) =>
        form.Marks(photo) is { } marks
            ? photographs.Measure(
                $"{sha256}|{string.Join('|', form.Fields().Where(f => f.Name is not ("Next" or "Show")))}",
                photo,
                marks
            )
            : null;

    private PhotographPage Page(string sha256, RgbPicture photo, PhotographedForm form) =>
        new(sha256, form, (int)ShownHeight(photo, form), photo.Width, photo.Height, Measure(sha256, photo, form));

    private static double ShownHeight(RgbPicture photo, PhotographForm form) =>
        Math.Max(1, Math.Floor((double)photo.Height * form.ShownWidth / photo.Width));
}

/// <param name="Measured">Null while something is missing.</param>
public sealed record PhotographPage(
    string Sha256,
    PhotographedForm Form,
    int ShownHeight,
    int Width,
    int Height,
    MeasuredPhotograph? Measured
)
{
    public PhotoReading? Reading => Measured?.Reading;

    public bool CanBeAccepted => Reading is { IsRefused: false };

    public string Address(string file) => $"/garments/photographs/{Sha256}/{file}{Form.Query()}";
}
