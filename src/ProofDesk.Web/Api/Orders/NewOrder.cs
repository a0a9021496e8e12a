using System.ComponentModel;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Web.Api.Orders;

/// <summary>An order as it is taken: what the page of a new order asks, and with the same rules.</summary>
public sealed record NewOrder
{
    [Description("At most 200 characters.")]
    [Example("\"Regatta shirts\"")]
    public string Title { get; init; } = "";

    [Description("Who the proof goes to. A change of an order keeps its client and leaves this out.")]
    public NewClient? Client { get; init; }

    [Description("The day the garments must be in hand.")]
    [Example("\"2026-12-01\"")]
    public DateOnly? InHands { get; init; }

    [Description("Before the in-hands date.")]
    [Example("\"2026-11-20\"")]
    public DateOnly? ApproveBy { get; init; }

    [Description("In the shop's currency, 0 to 1,000,000,000.")]
    [Example("640.0")]
    public decimal? Value { get; init; }

    [Description("What an answer needs: link or code; left out for the shop's rule by value.")]
    public string? Evidence { get; init; }

    [Description("Address of a second person who must approve too.")]
    public string? SecondApprover { get; init; }

    [Description("A printed sample is approved before the run.")]
    public bool SampleAsked { get; init; }

    [Description("At most 2,000 characters; the client does not see them.")]
    public string? Notes { get; init; }

    [Description("The art and its place. Exactly one for now.")]
    public IReadOnlyList<NewPrint> Prints { get; init; } = [];

    [Description("Garments with their counts, at least one piece in all.")]
    public IReadOnlyList<NewLine> Lines { get; init; } = [];
}

public sealed record NewClient
{
    [Example("\"Harbour Rowing Club\"")]
    public string Name { get; init; } = "";

    [Example("\"kim@rowing.example\"")]
    public string Email { get; init; } = "";
}

/// <summary>What a version needs that the order does not say yet. Everything may be left out.</summary>
public sealed record NewVersion
{
    [Description("For art in which no pixel lets the cloth through: drop or print.")]
    [Example("\"drop\"")]
    public string? Background { get; init; }

    [Description("Words in the art as they must read, one a line; an empty list says that none are to be checked.")]
    [Example("[\"HARBOUR\",\"ROWING CLUB\"]")]
    public IReadOnlyList<string>? Words { get; init; }
}

/// <summary>One art at one place in one method.</summary>
public sealed record NewPrint
{
    [Description(
        "The art in base64. Left out when it is sent as the part \"art\" of multipart/form-data, and when a change keeps it."
    )]
    public NewArt? Art { get; init; }

    [Description("Where the print lies.")]
    public Place Place { get; init; } = Place.Front;

    [Description("Width of the inked extent, 20 to 500 mm.")]
    [Example("280.0")]
    public double WidthMm { get; init; } = 280;

    [Description("From the seam, 0 to 600 mm.")]
    [Example("75.0")]
    public double FromSeamMm { get; init; } = 75;

    [Description("From the centre line, -300 to 300 mm; positive to the wearer's left.")]
    [Example("0.0")]
    public double FromCentreMm { get; init; }

    [Description("Id of a method, from /api/v1/methods.")]
    [Example("\"plastisol\"")]
    public string Method { get; init; } = "plastisol";

    [Description(
        "For art in which no pixel lets the cloth through: drop or print. Left out, the order waits for the answer."
    )]
    [Example("\"drop\"")]
    public string? Background { get; init; }

    [Description("Fixes the number of colours, 1 to 12; left out, the art decides.")]
    public int? InkCount { get; init; }

    [Description("Inks by id, from /api/v1/inks; left out, the art decides. Not together with inkCount.")]
    public IReadOnlyList<string> Inks { get; init; } = [];

    [Description("What is said about single inks where the art decides.")]
    public IReadOnlyList<NewInkRule> InkRules { get; init; } = [];

    [Description("What lies under the colours: auto, white, discharge or none.")]
    [Example("\"auto\"")]
    public string Base { get; init; } = "auto";

    [Description("A low-bleed grey under white on dyed polyester.")]
    public bool BlockingBase { get; init; }

    [Description("Takes the layers of the art as one picture.")]
    public bool FlattenLayers { get; init; }

    [Description("Flat colours in painted art: solid or toned.")]
    [Example("\"solid\"")]
    public string FlatAreas { get; init; } = "solid";

    [Description("Id of a press, from /api/v1/presses; left out for the usual automatic press.")]
    public string? Press { get; init; }

    [Description("Id of an output device, as the desk lists them; left out for the fallback.")]
    public string? Device { get; init; }

    [Description("Images beside each other on a screen, 1 to 8.")]
    public int ImagesAcross { get; init; } = 1;

    [Description("Images below each other on a screen, 1 to 8.")]
    public int ImagesDown { get; init; } = 1;

    [Description("Bare film between two images, 5 to 200 mm.")]
    public double ImageGapMm { get; init; } = 20;

    [Description("Words in the art as they must read, one a line: the client checks the spelling against them.")]
    [Example("[\"HARBOUR\",\"ROWING CLUB\"]")]
    public IReadOnlyList<string> Words { get; init; } = [];

    [Description("The page of a PDF that is the art; left out for the first.")]
    public int? PdfPage { get; init; }
}

public sealed record NewArt
{
    [Example("\"crest.svg\"")]
    public string FileName { get; init; } = "";

    [Description("The bytes of the file in base64 (RFC 4648 4): PNG, JPEG, TIFF, WebP, SVG, PDF or a ZIP of layers.")]
    public string Base64 { get; init; } = "";
}

public sealed record NewInkRule
{
    public string Ink { get; init; } = "";

    [Description("must or never; left out when only the place is said.")]
    public string? Use { get; init; }

    [Description("Place in print order among the inks that have one, 1 to 20.")]
    public int? Place { get; init; }
}

/// <summary>One garment in one colour with its counts.</summary>
public sealed record NewLine
{
    [Description("Id of a garment, from /api/v1/garments.")]
    [Example("\"tee\"")]
    public string Garment { get; init; } = "";

    [Description("Id of one of its colours.")]
    [Example("\"black\"")]
    public string Colour { get; init; } = "";

    [Description("Pieces by size, 0 to 100,000 each.")]
    [Example("{\"S\":6,\"M\":14,\"L\":12}")]
    public IReadOnlyDictionary<string, int> Sizes { get; init; } = new Dictionary<string, int>();
}
