using System.ComponentModel.DataAnnotations;

namespace ProofDesk.Web.Wardrobe;

/// <summary>What the page of a garment sends. A row without a name is left out, so that emptying it removes what it said.</summary>
public sealed class GarmentForm
{
    /// <summary>The version the page was made from; 0 for a new garment.</summary>
    public int Seen { get; set; }

    /// <summary>The garment that a new one is made from.</summary>
    public string? From { get; set; }

    [StringLength(80)]
    public string? Name { get; set; }

    [StringLength(400)]
    public string? Note { get; set; }
    public double? AcrossMm { get; set; }
    public double? DownMm { get; set; }
    public double? ThicknessMm { get; set; }
    public double? ScatteringPerUm { get; set; }
    public List<SizeRow> Sizes { get; set; } = [];
    public List<ColourRow> Colours { get; set; } = [];
    public List<PlaceRow> Places { get; set; } = [];
    public List<SeamRow> Seams { get; set; } = [];
    public List<ObstacleRow> Obstacles { get; set; } = [];
}

public sealed class SizeRow
{
    [StringLength(20)]
    public string? Size { get; set; }
    public double? ChestMm { get; set; }
    public double? LengthMm { get; set; }
    public double? ShoulderMm { get; set; }
    public double? SleeveMm { get; set; }
    public double? CollarMm { get; set; }
    public double? DropFrontMm { get; set; }
    public double? DropBackMm { get; set; }

    /// <summary>Field, its words, and what it says, in the order of the page.</summary>
    public IEnumerable<(string Field, string Words, double? Value)> Measures =>
        [
            (nameof(ChestMm), "Half chest", ChestMm),
            (nameof(LengthMm), "Length", LengthMm),
            (nameof(ShoulderMm), "Shoulder", ShoulderMm),
            (nameof(SleeveMm), "Sleeve", SleeveMm),
            (nameof(CollarMm), "Collar", CollarMm),
            (nameof(DropFrontMm), "Drop front", DropFrontMm),
            (nameof(DropBackMm), "Drop back", DropBackMm),
        ];
}

public sealed class ColourRow
{
    /// <summary>Identifier of a colour that is there already; what the page does not show of it stays.</summary>
    [StringLength(80)]
    public string? Id { get; set; }

    [StringLength(80)]
    public string? Name { get; set; }

    /// <summary>"lab", "undyed" or "heather".</summary>
    public string Cloth { get; set; } = "lab";
    public double? L { get; set; }
    public double? A { get; set; }
    public double? B { get; set; }
    public double? Cotton { get; set; }
    public double? Polyester { get; set; }
    public double? Viscose { get; set; }

    /// <summary>"A", "B", "C" or "photographed".</summary>
    public string Class { get; set; } = "B";

    [StringLength(200)]
    public string? Source { get; set; }

    /// <summary>"azo-reactive-red 1, azo-reactive-yellow 0.4".</summary>
    [StringLength(400)]
    public string? Dyes { get; set; }
}

public sealed class PlaceRow
{
    public string Place { get; set; } = "";
    public double? FromSeamMm { get; set; }
    public double? FromCentreMm { get; set; }

    [StringLength(80)]
    public string? Width { get; set; }

    [StringLength(80)]
    public string? Height { get; set; }
}

public sealed class SeamRow
{
    public string Side { get; set; } = "front";

    [StringLength(80)]
    public string? Name { get; set; }
    public int? Stitches { get; set; }

    /// <summary>Steps of the path, one a line.</summary>
    [StringLength(2000)]
    public string? Line { get; set; }
}

public sealed class ObstacleRow
{
    public string Side { get; set; } = "front";

    [StringLength(80)]
    public string? Name { get; set; }
    public string Kind { get; set; } = "seam";

    [StringLength(2000)]
    public string? Outline { get; set; }
}
