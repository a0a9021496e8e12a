using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Plates, ink lists and change-over sheets of a proof as one JSON text: stable order, invariant numbers, the same
/// proof gives the same text.
/// </summary>
public static class InkListJson
{
    public static string Write(Proof proof)
    {
        return IndentedJson.Write(json =>
            {
                json.WriteStartObject();
                json.WriteNumber("widthMm", Round(proof.Separation.WidthMm, 3));
                json.WriteNumber("heightMm", Round(proof.Separation.HeightMm, 3));
                json.WriteNumber("quantity", proof.Request.Quantity);
                json.WriteString("method", proof.Request.Method.Id);
                json.WriteString("sizeGroup", proof.Request.SizeGroup);
                Device(json, proof.Films.Device);
                Layout(json, proof.Films.Layout);
                json.WriteStartArray("plates");
                for (var i = 0; i < proof.Films.Plates.Length; i++)
                    Plate(json, proof, i);
                json.WriteEndArray();
                json.WriteStartArray("grounds");
                foreach (var ground in proof.Grounds)
                    Ground(json, proof, ground);
                json.WriteEndArray();
                if (proof.Separation.SecondSet is { } second)
                    SecondSet(json, second);
                json.WriteEndObject();
            }) + "\n";
    }

    private static void SecondSet(Utf8JsonWriter json, SecondSet second)
    {
        json.WriteStartObject("secondSet");
        json.WriteNumber("screens", second.Screens);
        json.WriteStartArray("serves");
        foreach (var ground in second.Serves)
            json.WriteStringValue(ground.Id);
        json.WriteEndArray();
        json.WriteStartArray("grounds");
        foreach (var gain in second.Gains)
        {
            json.WriteStartObject();
            json.WriteString("ground", gain.Ground.Id);
            json.WriteNumber("oneSetDeltaE00", Round(gain.OneSet, 2));
            json.WriteNumber("twoSetsDeltaE00", Round(gain.TwoSets, 2));
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Fit(Utf8JsonWriter json, GroundFit fit)
    {
        json.WriteStartObject("fit");
        json.WriteNumber("meanFromArtDeltaE00", Round(fit.MeanFromArt, 2));
        json.WriteNumber("meanDeltaE00", Round(fit.MeanDeltaE, 2));
        json.WriteNumber("ninetyFifthDeltaE00", Round(fit.NinetyFifthDeltaE, 2));
        json.WriteNumber("outOfReachPercent", Round(100 * fit.OutOfReachShare, 2));
        json.WriteNumber("meanMoveDeltaE00", Round(fit.MeanMove, 2));
        json.WriteNumber("mostMoveDeltaE00", Round(fit.MostMove, 2));
        json.WriteEndObject();
    }

    private static void Device(Utf8JsonWriter json, OutputDevice device)
    {
        json.WriteStartObject("device");
        json.WriteString("name", device.Name);
        json.WriteNumber("xDpi", Round(device.OwnXDpi, 3));
        json.WriteNumber("yDpi", Round(device.OwnYDpi, 3));
        if (device.IsStretched)
        {
            json.WriteNumber("xStretchPercent", Round(device.XStretchPercent, 3));
            json.WriteNumber("yStretchPercent", Round(device.YStretchPercent, 3));
        }
        json.WriteBoolean("mirror", device.Mirror);
        json.WriteBoolean("tonesCorrected", device.Tones is not null);
        json.WriteString("frame", device.Frame.Name);
        json.WriteString("bound", device.HandOver == HandOver.DotsOurs ? "dots" : "tones");
        json.WriteString("words", HandOverWords(device.HandOver));
        json.WriteEndObject();
    }

    /// <summary>What the films bind, as film, ticket and record say it.</summary>
    public static string HandOverWords(HandOver handOver) =>
        handOver == HandOver.DotsOurs ? "dots bound" : "tones bound, dots simulated";

    private static void Layout(Utf8JsonWriter json, ScreenLayout layout)
    {
        if (layout.IsOne)
            return;
        json.WriteStartObject("imagesOnScreen");
        json.WriteNumber("columns", layout.Columns);
        json.WriteNumber("rows", layout.Rows);
        json.WriteNumber("gapMm", Round(layout.GapMm, 2));
        json.WriteString("counted", "coverage, area, ink and digest are those of one image: a shirt gets one");
        json.WriteEndObject();
    }

    private static void Plate(Utf8JsonWriter json, Proof proof, int index)
    {
        var (film, measure) = (proof.Films.Plates[index], proof.Measures[index]);
        json.WriteStartObject();
        json.WriteNumber("order", index + 1);
        json.WriteString("plate", film.Plate.Name);
        json.WriteNumber("widthPixels", film.Width);
        json.WriteNumber("heightPixels", film.Height);
        json.WriteNumber("inkPixels", measure.InkPixels);
        json.WriteNumber("coveragePercent", Round(measure.CoveragePercent, 4));
        json.WriteNumber("areaCm2", Round(measure.AreaCm2, 3));
        json.WriteString("imageSha256", measure.Sha256);
        if (proof.Films.Device.HandOver == HandOver.DotsTheirs)
        {
            var (lpi, angle) = film.TrueScreen;
            json.WriteNumber("simulatedLpi", Round(lpi, 2));
            json.WriteNumber("simulatedAngleDegrees", Round(angle, 2));
        }
        if (index < proof.PlateChecks.Length)
            Check(json, proof.PlateChecks[index]);
        json.WriteEndObject();
    }

    private static void Check(Utf8JsonWriter json, PlateCheck check)
    {
        json.WriteStartObject("checks");
        NumberOrNull(json, "threadsPerLine", check.ThreadsPerLine);
        NumberOrNull(json, "beatMm", check.BeatMm);
        NumberOrNull(json, "greyLevels", check.GreyLevels);
        NumberOrNull(json, "safeDotUm", check.SafeDotUm);
        NumberOrNull(json, "smallDotPercent", check.SmallDotPercent);
        if (check.WeakTones is { } weak)
            json.WriteString("weakTones", weak.ToString().ToLowerInvariant());
        NumberOrNull(json, "thinBaseMm", check.ThinBaseMm);
        NumberOrNull(json, "thinBaseCm2", check.ThinBaseCm2);
        json.WriteEndObject();
    }

    private static void Ground(Utf8JsonWriter json, Proof proof, GroundProof ground)
    {
        json.WriteStartObject();
        json.WriteString("ground", ground.Ground.Id);
        json.WriteString("garment", ground.Ground.Garment.Name);
        json.WriteString("colour", ground.Ground.Colour.Name);
        json.WriteNumber("screens", ground.InkList.Rows.Length);
        Confidence(json, ProofConfidence.Of(ground.Plan));
        if (proof.Separation.Fits.FirstOrDefault(f => f.Ground == ground.Ground) is { } fit)
            Fit(json, fit);
        json.WriteStartArray("rows");
        foreach (var row in ground.InkList.Rows)
            Row(json, row);
        json.WriteEndArray();
        json.WriteStartArray("changeOver");
        foreach (var run in ground.Plan.Runs)
            Run(json, proof, run);
        json.WriteEndArray();
        if (ground.PressPlan is { } plan)
            Heads(json, plan);
        if (ground.Hand is { } hand)
        {
            json.WriteStartObject("hand");
            json.WriteNumber("thickestFilmUm", Round(hand.ThickestUm, 0));
            json.WriteNumber("dryGramsPerPrint", Round(hand.DryGrams, 2));
            json.WriteString("words", hand.Words);
            json.WriteEndObject();
        }
        json.WriteStartArray("secondLights");
        foreach (var row in ground.SecondLights)
            SecondLight(json, row);
        json.WriteEndArray();
        json.WriteStartArray("overprints");
        foreach (var overprint in ground.Overprints)
        {
            json.WriteStartObject();
            json.WriteString("first", overprint.First);
            json.WriteString("second", overprint.Second);
            json.WriteNumber("apparentTrap", Round(overprint.ApparentTrap, 3));
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Row(Utf8JsonWriter json, InkListRow row)
    {
        json.WriteStartObject();
        json.WriteNumber("order", row.Order);
        json.WriteString("plate", row.Plate);
        json.WriteString("purpose", row.Purpose);
        json.WriteString("ink", row.Ink);
        json.WriteString("inkType", row.InkType);
        json.WriteString("mesh", row.Mesh);
        json.WriteNumber("meshThreadsPerCm", Round(row.MeshThreadsPerCm, 1));
        json.WriteNumber("meshThreadUm", Round(row.MeshThreadUm, 1));
        NumberOrNull(json, "lpi", row.LinesPerInch);
        NumberOrNull(json, "angleDegrees", row.AngleDegrees);
        json.WriteString("dotShape", row.DotShape);
        json.WriteNumber("strokes", row.Strokes);
        json.WriteBoolean("flash", row.Flash);
        json.WriteNumber("coveragePercent", Round(row.CoveragePercent, 4));
        json.WriteNumber("areaCm2", Round(row.AreaCm2, 3));
        json.WriteNumber("theoreticalInkVolumeCm3PerM2", Round(row.TheoreticalInkVolumeCm3PerM2, 2));
        json.WriteNumber("gramsPer100Prints", Round(row.GramsPer100Prints, 1));
        json.WriteNumber("gramsToMix", Round(row.GramsToMix, 0));
        Colour(json, "expectedLab", row.ExpectedLab);
        Colour(json, "lightLab", row.LightLab);
        Colour(json, "heavyLab", row.HeavyLab);
        json.WriteNumber("rangeDeltaE00", Round(row.SpanDeltaE00, 1));
        json.WriteString("dataClass", row.DataClass);
        if (row.DaysLaterLab is { } later)
        {
            json.WriteNumber("laterDays", (int)Migration.UsualDays);
            Colour(json, "laterLab", later);
        }
        if (row.SpecularLab is { } specular)
        {
            Colour(json, "specularLab", specular);
            json.WriteString("mirrorLight", row.MirrorLight);
        }
        if (row.Caution.Length > 0)
            json.WriteString("caution", row.Caution);
        if (row.ByHand is { } byHand)
            json.WriteString("byHand", byHand);

        if (row.Target is { } match)
            Target(json, match);
        if (!row.Mix.IsEmpty)
        {
            json.WriteStartArray("mix");
            foreach (var (name, grams) in row.Mix)
            {
                json.WriteStartObject();
                json.WriteString("name", name);
                json.WriteNumber("grams", Round(grams, 1));
                json.WriteEndObject();
            }
            json.WriteEndArray();
        }
        json.WriteEndObject();
    }

    private static void Target(Utf8JsonWriter json, TargetMatch match)
    {
        json.WriteStartObject("target");
        Colour(json, "lab", match.Target.Lab);
        json.WriteString("light", match.Target.Light.ToString());
        json.WriteNumber("toleranceDeltaE00", Round(match.Target.ToleranceDe00, 2));
        Colour(json, "predictedLab", match.Predicted);
        json.WriteNumber("deltaE00", Round(match.DeltaE, 2));
        json.WriteBoolean("within", match.IsWithin);
        json.WriteBoolean("canBeReached", match.CanBeReached);
        json.WriteNumber("bestDeltaE00", Round(match.Best.DeltaE, 2));
        json.WriteString("bestWith", match.Best.Words);
        json.WriteNumber("bestWithoutBaseDeltaE00", Round(match.WithoutBase.DeltaE, 2));
        json.WriteString("words", match.Verdict);
        json.WriteEndObject();
    }

    private static void Run(Utf8JsonWriter json, Proof proof, ScreenRun run)
    {
        json.WriteStartObject();
        json.WriteNumber("order", run.Plate + 1);
        json.WriteString("plate", proof.Films.Plates[run.Plate].Plate.Name);
        json.WriteBoolean("runs", run.Runs);
        json.WriteString("ink", run.Ink.Name);
        json.WriteNumber("strokes", run.Strokes);
        json.WriteBoolean("flash", run.FlashAfter);
        json.WriteString("reason", run.Reason);
        json.WriteEndObject();
    }

    private static void Heads(Utf8JsonWriter json, PressPlan plan)
    {
        json.WriteStartObject("pressPlan");
        json.WriteString("press", plan.Equipment.Name);
        json.WriteNumber("heads", plan.Equipment.Heads);
        json.WriteNumber("freeHeads", plan.FreeHeads);
        json.WriteNumber("coloursLeft", plan.ColoursLeft);
        json.WriteStartArray("plan");
        foreach (var head in plan.Heads)
        {
            json.WriteStartObject();
            json.WriteNumber("head", head.Head);
            json.WriteString("task", head.Task.ToString().ToLowerInvariant());
            if (head.Screen is { } screen)
                json.WriteNumber("screen", screen);
            json.WriteString("text", head.Text);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Confidence(Utf8JsonWriter json, ProofConfidence confidence)
    {
        json.WriteStartObject("confidence");
        json.WriteString("inkClass", confidence.Inks.ToString());
        json.WriteString("clothClass", confidence.Cloth.ToString());
        json.WriteNumber("fromDeltaE", confidence.FromDeltaE);
        json.WriteNumber("toDeltaE", confidence.ToDeltaE);
        json.WriteString("text", confidence.Text);
        json.WriteEndObject();
    }

    private static void SecondLight(Utf8JsonWriter json, SecondLightRow row)
    {
        json.WriteStartObject();
        json.WriteString("plate", row.Plate);
        json.WriteString("target", row.Target);
        json.WriteNumber("deltaED65", Round(row.Difference.UnderD65, 2));
        json.WriteNumber("deltaEA", Round(row.Difference.UnderA, 2));
        json.WriteNumber("deltaEF11", Round(row.Difference.UnderF11, 2));
        Colour(json, "labA", row.UnderA);
        Colour(json, "labF11", row.UnderF11);
        json.WriteEndObject();
    }

    private static void NumberOrNull(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number)
            json.WriteNumber(name, Round(number, 2));
        else
            json.WriteNull(name);
    }

    private static void Colour(Utf8JsonWriter json, string name, Lab lab)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(Round(lab.L, 2));
        json.WriteNumberValue(Round(lab.A, 2));
        json.WriteNumberValue(Round(lab.B, 2));
        json.WriteEndArray();
    }

    // Decimal writes no exponent and no negative zero.
    private static decimal Round(double value, int decimals) =>
        Math.Round((decimal)value, decimals, MidpointRounding.AwayFromZero) + 0m;
}
