using System.Globalization;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Layers;

namespace ProofDesk.Cli;

/// <summary>What stood on the command line of `make`, understood but not yet looked up.</summary>
internal sealed record MakeArguments
{
    public const string Help = """
        usage: proofdesk make ART --garment ID --colour ID[,ID...] --method ID --width-mm N --out DIR [options]
          ART                 png, jpeg, tiff, webp, svg or pdf (pdf needs Ghostscript or poppler on this machine);
                              or a zip or a folder of pictures, one a layer
          --garment ID|FILE   see 'proofdesk garments'; or a garment.json, see 'proofdesk photo-garment'
          --colour ID[,ID]    one plate set serves all of them
          --method ID         see 'proofdesk methods'
          --width-mm N        width of the inked extent
          --out DIR           made if it is missing; files in it are replaced
          --page N            the page of a pdf that is art (1)
          --inks auto|N|FILE  as the art needs; exactly N colours; or a .json or .csv list of ink ids and #rrggbb colours;
                              .json may hold the shop's own inks, see docs/ink-files.md
          --use-inks ID[,ID]  inks that must print; a .json or .csv file in place of an id names the shop's own
          --avoid-inks ID[,ID]
                              inks that are not chosen
          --ink-order ID[,ID] print order, first printed first; inks not named keep their places between base and highlight
          --base auto|white|discharge|none
          --base-flash        print-flash-print: the base is printed, flashed and printed again from the same screen
          --blocking-base     a low-bleed grey first, under the white, where dye of the polyester would wander into the ink
          --background drop|print
                              what becomes of the background of opaque art
          --flat-areas solid|toned
                              flat colours with crisp edges in painted art: solid in an ink of their own, or toned like
                              the rest (solid)
          --layers keep|flatten
                              a plate of each layer where the file keeps inks apart, or all of them as one picture (keep)
          --film-dpi N        device resolution, 300 to 5080 (1440)
          --lpi N             ruling of all tones (from the mesh)
          --angle N           angle of the screens, degrees; of cyan in four-colour-process (22.5)
          --dots am|fm        dots of simulated-process and four-colour-process: on a lattice, or stochastic (am)
          --fm-dot-um N       size of stochastic dots, 40 to 250 (what the mesh holds for sure)
          --garment-px N      pixels a mm of the worn picture, 0.5 to 10 (2)
          --seed N            (1)
          --quantity N        shirts of the run (100)
          --place ID          front, back, left-chest, right-chest, left-sleeve, right-sleeve, nape, inside-neck,
                              all-over-front, all-over-back (front)
          --size ID           size the worn picture shows (L)
          --press automatic|manual|FILE
                              a class of press, or the shop's own that 'proofdesk press-fit' wrote
          --hand-over dots|tones
                              1-bit films, or 8-bit plates for a device that makes the dots (dots)
          --mirror            films mirrored
          --device FILE       record of the output device, .json; what is given beside it wins, see docs/films.md
          --frame FILE        frame template, .json; also inside the device's record
          --images-on-screen CxR
                              the image several times on each screen, e.g. 2x2 (1x1)
          --gap-mm N          bare film between those images (20)
          --range             the light and the heavy end beside the expected print
          --head-by-head      the print after every screen
          --roster FILE       names and numbers, a .csv with the columns name, number, size, colour (vinyl and plastisol-transfer)
          --roster-ink ID     sheet or ink of the names and numbers (white on dark cloth, black on pale)
          --under FILE        art of an all-over belt print that this one is printed on
          --under-width-mm N  width of that art: repeated, or once when it is as wide as the garment (1000)
          --by-hand FILE      films changed by hand: tone wedge, choke or spread, angle, ruling, dot, mesh and more, a plate each;
                              see docs/light-table.md
          --write-by-hand FILE
                              writes such a file with every plate in it and nothing changed, to begin with
          --order NAME        printed on the films
          --released          leaves the words NOT RELEASED off the films: you say that the proof was accepted
        exit code: 0 done, 1 the art or the settings cannot do this, 2 not understood
        """;

    private static readonly string[] Valued =
    [
        "--garment",
        "--colour",
        "--method",
        "--width-mm",
        "--out",
        "--page",
        "--inks",
        "--use-inks",
        "--avoid-inks",
        "--ink-order",
        "--base",
        "--background",
        "--flat-areas",
        "--layers",
        "--film-dpi",
        "--lpi",
        "--angle",
        "--dots",
        "--fm-dot-um",
        "--garment-px",
        "--seed",
        "--quantity",
        "--place",
        "--size",
        "--press",
        "--hand-over",
        "--device",
        "--frame",
        "--images-on-screen",
        "--gap-mm",
        "--order",
        "--roster",
        "--roster-ink",
        "--under",
        "--under-width-mm",
        "--by-hand",
        "--write-by-hand",
    ];

    private static readonly string[] Flags =
    [
        "--base-flash",
        "--blocking-base",
        "--mirror",
        "--range",
        "--head-by-head",
        "--released",
    ];

    public required string Art { get; init; }
    public required string Garment { get; init; }
    public required string[] Colours { get; init; }
    public required string Method { get; init; }
    public required double WidthMm { get; init; }
    public required string Out { get; init; }

    /// <summary>Page of a PDF.</summary>
    public int Page { get; init; } = 1;

    /// <summary>Art of the belt print below, or null.</summary>
    public string? Under { get; init; }
    public double UnderWidthMm { get; init; } = 1000;
    public string Inks { get; init; } = "auto";

    /// <summary>Inks that must print, that must not, and the order of printing, as they were named.</summary>
    public string[] UseInks { get; init; } = [];
    public string[] AvoidInks { get; init; } = [];
    public string[] InkOrder { get; init; } = [];
    public BaseChoice Base { get; init; }
    public bool BaseFlash { get; init; }
    public bool BlockingBase { get; init; }
    public BackgroundChoice Background { get; init; }
    public FlatAreas FlatAreas { get; init; }
    public LayerChoice Layers { get; init; }
    public double? FilmDpi { get; init; }
    public double? LinesPerInch { get; init; }
    public double AngleDegrees { get; init; } = 22.5;
    public DotPlacement Dots { get; init; }
    public double? StochasticDotUm { get; init; }
    public double? GarmentPixelsPerMm { get; init; }
    public ulong Seed { get; init; } = 1;
    public int Quantity { get; init; } = 100;
    public Place Place { get; init; }
    public string Size { get; init; } = "L";
    public PressClass PressClass { get; init; }

    /// <summary>File of the shop's own press; null = the usual one.</summary>
    public string? PressFile { get; init; }
    public HandOver? HandOver { get; init; }

    /// <summary>File of the shop's output device; null = the fallback.</summary>
    public string? DeviceFile { get; init; }

    /// <summary>File of the frame template; null = the device's.</summary>
    public string? FrameFile { get; init; }
    public ScreenLayout Layout { get; init; } = ScreenLayout.One;

    /// <summary>File of hand work on the films, or null.</summary>
    public string? ByHand { get; init; }

    /// <summary>File to begin hand work with, or null.</summary>
    public string? WriteByHand { get; init; }
    public string Order { get; init; } = "-";
    public string? Roster { get; init; }
    public string? RosterInk { get; init; }
    public bool Mirror { get; init; }
    public bool Range { get; init; }
    public bool HeadByHead { get; init; }
    public bool Released { get; init; }

    /// <exception cref="UsageProblem">Something was not understood; the first such thing.</exception>
    public static MakeArguments Read(string[] args)
    {
        var (art, given) = Sort(args);
        string Needed(string name) => given.GetValueOrDefault(name) ?? throw new UsageProblem($"{name} is missing");
        double Number(string name, double least, double most) => Within(name, given[name], least, most);
        string[] Words(string text) =>
            text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        string[] List(string name) => Words(given.GetValueOrDefault(name, ""));
        T Choice<T>(string name, T usual, params (string Word, T Value)[] words) =>
            given.TryGetValue(name, out var word) ? OneOf(name, word, words) : usual;

        if (given.ContainsKey("--base-flash") && given.GetValueOrDefault("--base") == "none")
            throw new UsageProblem("--base-flash prints a base twice, --base none leaves it out");

        if (given.ContainsKey("--fm-dot-um") && given.GetValueOrDefault("--dots") != "fm")
            throw new UsageProblem("--fm-dot-um is the size of stochastic dots, which --dots fm asks for");

        return new()
        {
            Art = art ?? throw new UsageProblem("the art file is missing"),
            Garment = Needed("--garment"),
            Colours = Words(Needed("--colour")),
            Method = Needed("--method"),
            WidthMm = Within("--width-mm", Needed("--width-mm"), 5, 1000),
            Out = Needed("--out"),
            Page = given.TryGetValue("--page", out var page) ? Paged(page) : 1,
            Under = given.GetValueOrDefault("--under"),
            UnderWidthMm = given.ContainsKey("--under-width-mm") ? Number("--under-width-mm", 5, 1500) : 1000,
            Inks = given.GetValueOrDefault("--inks", "auto"),
            UseInks = List("--use-inks"),
            AvoidInks = List("--avoid-inks"),
            InkOrder = List("--ink-order"),
            Base = Choice(
                "--base",
                BaseChoice.Auto,
                ("auto", BaseChoice.Auto),
                ("white", BaseChoice.White),
                ("discharge", BaseChoice.Discharge),
                ("none", BaseChoice.None)
            ),
            Background = Choice(
                "--background",
                BackgroundChoice.AsGiven,
                ("drop", BackgroundChoice.Drop),
                ("print", BackgroundChoice.Print)
            ),
            FlatAreas = Choice("--flat-areas", FlatAreas.Solid, ("solid", FlatAreas.Solid), ("toned", FlatAreas.Toned)),
            Layers = Choice("--layers", LayerChoice.Keep, ("keep", LayerChoice.Keep), ("flatten", LayerChoice.Flatten)),
            FilmDpi = given.ContainsKey("--film-dpi") ? Number("--film-dpi", 300, 5080) : null,
            LinesPerInch = given.ContainsKey("--lpi") ? Number("--lpi", 10, 150) : null,
            AngleDegrees = given.ContainsKey("--angle") ? Number("--angle", 0, 179.9) : 22.5,
            Dots = Choice(
                "--dots",
                DotPlacement.Lattice,
                ("am", DotPlacement.Lattice),
                ("fm", DotPlacement.Stochastic)
            ),
            StochasticDotUm = given.ContainsKey("--fm-dot-um") ? Number("--fm-dot-um", 40, 250) : null,
            GarmentPixelsPerMm = given.ContainsKey("--garment-px") ? Number("--garment-px", 0.5, 10) : null,
            Seed = given.TryGetValue("--seed", out var seed) ? Seeded(seed) : 1,
            Quantity = given.ContainsKey("--quantity") ? (int)Number("--quantity", 1, 1_000_000) : 100,
            Place = Choice("--place", Place.Front, [.. Enum.GetValues<Place>().Select(p => (p.Id(), p))]),
            Size = given.GetValueOrDefault("--size", "L"),
            PressClass = IsFile(given.GetValueOrDefault("--press"))
                ? PressClass.Automatic
                : Choice(
                    "--press",
                    PressClass.Automatic,
                    ("automatic", PressClass.Automatic),
                    ("manual", PressClass.Manual)
                ),
            PressFile = IsFile(given.GetValueOrDefault("--press")) ? given["--press"] : null,
            HandOver = given.ContainsKey("--hand-over")
                ? Choice(
                    "--hand-over",
                    Printing.Screening.HandOver.DotsOurs,
                    ("dots", Printing.Screening.HandOver.DotsOurs),
                    ("tones", Printing.Screening.HandOver.DotsTheirs)
                )
                : null,
            DeviceFile = given.GetValueOrDefault("--device"),
            FrameFile = given.GetValueOrDefault("--frame"),
            Layout = LayoutOf(
                given.GetValueOrDefault("--images-on-screen"),
                given.ContainsKey("--gap-mm")
                    ? Number("--gap-mm", ScreenLayout.LeastGapMm, ScreenLayout.MostGapMm)
                    : null
            ),
            ByHand = given.GetValueOrDefault("--by-hand"),
            WriteByHand = given.GetValueOrDefault("--write-by-hand"),
            Order = given.GetValueOrDefault("--order", "-"),
            Roster = given.GetValueOrDefault("--roster"),
            RosterInk = given.GetValueOrDefault("--roster-ink"),
            BaseFlash = given.ContainsKey("--base-flash"),
            BlockingBase = given.ContainsKey("--blocking-base"),
            Mirror = given.ContainsKey("--mirror"),
            Range = given.ContainsKey("--range"),
            HeadByHead = given.ContainsKey("--head-by-head"),
            Released = given.ContainsKey("--released"),
        };
    }

    private static (string? Art, Dictionary<string, string> Given) Sort(string[] args)
    {
        string? art = null;
        var given = new Dictionary<string, string>();
        for (var i = 0; i < args.Length; i++)
        {
            var word = args[i];
            if (!word.StartsWith("--", StringComparison.Ordinal))
            {
                if (art is not null)
                    throw new UsageProblem($"one art file is made at a time; '{art}' and '{word}' given");
                art = word;
                continue;
            }
            var flag = Flags.Contains(word);
            if (!flag && !Valued.Contains(word))
                throw new UsageProblem($"no option '{word}'{Nearest.Guess(word, Valued.Concat(Flags))}");
            if (!flag && (i + 1 == args.Length || args[i + 1].StartsWith("--", StringComparison.Ordinal)))
                throw new UsageProblem($"{word} needs a value");
            if (!given.TryAdd(word, flag ? "" : args[++i]))
                throw new UsageProblem($"{word} is given twice");
        }
        return (art, given);
    }

    private static ScreenLayout LayoutOf(string? images, double? gapMm)
    {
        if (images is null)
            return gapMm is null
                ? ScreenLayout.One
                : throw new UsageProblem("--gap-mm goes with --images-on-screen CxR");
        if (
            images.Split('x') is not [var across, var down]
            || !int.TryParse(across, NumberStyles.None, CultureInfo.InvariantCulture, out var columns)
            || !int.TryParse(down, NumberStyles.None, CultureInfo.InvariantCulture, out var rows)
            || columns is < 1 or > ScreenLayout.MostASide
            || rows is < 1 or > ScreenLayout.MostASide
        )
            throw new UsageProblem(
                $"--images-on-screen is columns x rows, each 1 to {ScreenLayout.MostASide}, for instance 2x2; '{images}' given"
            );
        return columns * rows == 1 ? ScreenLayout.One : new(columns, rows, gapMm ?? ScreenLayout.UsualGapMm);
    }

    private static bool IsFile(string? press) => press?.EndsWith(".json", StringComparison.OrdinalIgnoreCase) == true;

    private static double Within(string name, string text, double least, double most) =>
        double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
        && value >= least
        && value <= most
            ? value
            : throw new UsageProblem($"{name} is a number from {least:0.#} to {most:0.#}; '{text}' given");

    private static int Paged(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) && value > 0
            ? value
            : throw new UsageProblem($"--page is a whole number from 1; '{text}' given");

    private static ulong Seeded(string text) =>
        ulong.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw new UsageProblem($"--seed is a whole number from 0; '{text}' given");

    private static T OneOf<T>(string name, string word, (string Word, T Value)[] words)
    {
        foreach (var (known, value) in words)
            if (known == word)
                return value;
        var all = words.Select(w => w.Word).ToArray();
        throw new UsageProblem($"{name} is one of {string.Join(", ", all)}; '{word}' given{Nearest.Guess(word, all)}");
    }
}

/// <summary>A command that was not understood: lower case, no final period; the hint says what would have been right.</summary>
internal sealed class UsageProblem(string what, string? hint = null) : Exception(what)
{
    public string Hint { get; } = hint ?? "'proofdesk make --help' lists the options";
}
