using System.Collections.Immutable;
using System.Text;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Files;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.TestForms;
using ProofDesk.Web.Security;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Presses;

/// <summary>Between the page and the press: reads sheets and scans, fits, and puts each problem at the field it is in.</summary>
public sealed class PressForms(IFileStore files, ArtDecoder decoder, Garments garments)
{
    private const long MostSheetBytes = 200_000;
    private const int MostFiles = 12;
    private const string Pasted = "pasted sheet";

    /// <summary>What a scan's decoder is told; only drawings depend on it, and a scan is none.</summary>
    private const double ScanWidthMm = 300;

    /// <returns>Null when something has to be mended first.</returns>
    public async Task<PressDefinition?> ReadAsync(
        PressForm form,
        PressDefinition? before,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        var sheets = await SheetsAsync(form, state, cancel);
        var scans = await ScansAsync(form, before, sheets, state, cancel);
        var forms = sheets.Select(sheet => Readings(sheet, state)).OfType<PressReadings>().ToList();
        // Somebody who has to look at the page again wants to read every problem, not the first.
        if (forms.Count < Math.Max(1, sheets.Length))
            return null;
        for (var i = 0; i < scans.Length; i++)
            if (await ScannedAsync(scans[i], i, forms[0], state, cancel) is { } read)
                forms[0] = forms[0].With(read);
        if (!state.IsValid)
            return null;
        try
        {
            var fitted = PressFit.Fit(forms, PressSettings.Automatic, form.Name.Trim());
            return new(
                form.Name.Trim(),
                [.. forms.Select(f => f.Form.Mesh.Label).Distinct()],
                sheets,
                scans,
                // What can be stored can be read back: the same limits hold.
                PressJson.Read(PressJson.Write(fitted), form.Name.Trim())
            );
        }
        catch (ReadingsRefused refused)
        {
            foreach (var finding in refused.Findings)
                state.AddModelError(nameof(form.Sheet), Sentences(finding.Message, finding.NextStep));
        }
        catch (ReadingSheetProblem problem)
        {
            state.AddModelError(nameof(form.Sheet), Sentences(problem.Message, problem.NextStep));
        }
        return null;
    }

    /// <summary>What the page shows of a press that is there: its sheet, where it has one only, so that it can be mended.</summary>
    public static PressForm Of(ShopPress press) =>
        new()
        {
            Seen = press.Row.Version,
            Name = press.Definition.Name,
            Sheet = press.Definition.Sheets is [var only] ? only.Text : null,
        };

    private static async Task<ImmutableArray<SheetText>> SheetsAsync(
        PressForm form,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        if (form.Sheets.Count > MostFiles || form.Scans.Count > MostFiles)
        {
            state.AddModelError(
                nameof(form.Sheets),
                $"{Math.Max(form.Sheets.Count, form.Scans.Count)} files are given; {MostFiles} are possible at once."
            );
            return [];
        }
        var sheets = ImmutableArray.CreateBuilder<SheetText>();
        foreach (var file in form.Sheets)
        {
            var name = FileName(file);
            if (file.Length is 0 or > MostSheetBytes)
            {
                state.AddModelError(
                    nameof(form.Sheets),
                    file.Length == 0
                        ? $"{name} is empty."
                        : $"{name} has {file.Length / 1000} kB; a reading sheet is text of at most {MostSheetBytes / 1000} kB."
                );
                continue;
            }
            using var reader = new StreamReader(file.OpenReadStream(), Encoding.UTF8);
            sheets.Add(new(name, await reader.ReadToEndAsync(cancel)));
        }
        // The page comes back with the sheet in its field: it can be mended there, and nothing is lost.
        if (sheets.Count == 1)
            form.Sheet = sheets[0].Text;
        else if (form.Sheets.Count == 0 && !string.IsNullOrWhiteSpace(form.Sheet))
            sheets.Add(new(Pasted, form.Sheet));
        if (sheets.Count == 0 && state.IsValid)
            state.AddModelError(
                nameof(form.Sheet),
                "There is no reading sheet. Give the file that came with the films, or paste what it says; with a scan it may be blank."
            );
        return sheets.ToImmutable();
    }

    private PressReadings? Readings(SheetText sheet, ModelStateDictionary state)
    {
        try
        {
            return ReadingSheetJson.Read(sheet.Text, sheet.FileName, garments.Find);
        }
        catch (ReadingSheetProblem problem)
        {
            state.AddModelError(nameof(PressForm.Sheet), Sentences(problem.Message, problem.NextStep));
            return null;
        }
    }

    /// <summary>Stores the scans before anything reads them. None given: those of the same sheet stay.</summary>
    private async Task<ImmutableArray<KeptScan>> ScansAsync(
        PressForm form,
        PressDefinition? before,
        ImmutableArray<SheetText> sheets,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        if (!state.IsValid)
            return [];
        if (form.Scans.Count == 0)
            return before is not null && form.Sheets.Count == 0 && sheets.Length > 0 ? before.Scans : [];
        var scans = ImmutableArray.CreateBuilder<KeptScan>();
        foreach (var scan in form.Scans)
        {
            await using var bytes = scan.OpenReadStream();
            scans.Add(new(FileName(scan), (await files.PutAsync(bytes, cancel)).Sha256));
        }
        return scans.ToImmutable();
    }

    private async Task<PressReadings?> ScannedAsync(
        KeptScan scan,
        int index,
        PressReadings first,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        try
        {
            await using var file = files.Open(scan.Sha256);
            var art = await decoder.DecodeAsync(file, ScanWidthMm, cancel);
            return ScanReading.Read(
                ScanPicture.Of(art),
                first.Form,
                first.Ground,
                new(index == 0 ? ScannedSheet.Whole : ScannedSheet.Register, index + 1)
            );
        }
        catch (ScanProblem problem)
        {
            state.AddModelError(
                nameof(PressForm.Scans),
                Sentences($"{scan.FileName}: {problem.Message}", problem.NextStep)
            );
        }
        catch (UnreadableArt problem)
        {
            state.AddModelError(
                nameof(PressForm.Scans),
                Sentences($"{scan.FileName}: {problem.What}", problem.NextStep)
            );
        }
        return null;
    }

    private static string FileName(IFormFile file) => PlainText.FileName(file.FileName);

    // The first sentence may begin with the name of a file, which keeps its letters.
    private static string Sentences(string what, string next) =>
        $"{what}. {char.ToUpperInvariant(next[0])}{next[1..].TrimEnd('.')}.";
}
