using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>
/// A picture separated, screened to film bits and printed by the press simulation, against what the gamut mapping asked for. Both are
/// averaged in light over squares of some halftone cells; squares in which art was moved by the mapping do not count.
/// </summary>
internal sealed record PictureRoundTrip(ImmutableArray<PictureRoundTrip.Square> Squares)
{
    /// <summary>Five cells of a screen of 55 lines.</summary>
    private const double SquareMm = 2.3;

    /// <param name="Wanted">What the mapping asked for.</param>
    /// <param name="Solved">What the forward model says of the wanted tones: the error of the table alone.</param>
    /// <param name="Printed">What the film bits print.</param>
    internal sealed record Square(Lab Wanted, Lab Solved, Lab Printed, double Tones)
    {
        public double Off => Ciede2000.Difference(Printed, Wanted);
        public double OffSolved => Ciede2000.Difference(Solved, Wanted);
    }

    public double Mean => Squares.Average(s => s.Off);
    public double MeanSolved => Squares.Average(s => s.OffSolved);
    public double NinetyFifth => Squares.Select(s => s.Off).Order().ElementAt((int)(0.95 * Squares.Length));
    public (double L, double A, double B) Drift =>
        (
            Squares.Average(s => s.Printed.L - s.Wanted.L),
            Squares.Average(s => s.Printed.A - s.Wanted.A),
            Squares.Average(s => s.Printed.B - s.Wanted.B)
        );

    public static PictureRoundTrip Of(SizedArt art, TonalJob job, PressSettings press, params ReadOnlySpan<ulong> seeds)
    {
        var separation = TonalSeparator.Separate(art, job, [], []) with { Press = job.Method.Press };
        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        var ground = TonalGround.Of(job, 0);
        var side = (int)Math.Round(SquareMm * art.PixelsPerMm);
        var (across, down) = (art.Pixels.Width / side, art.Pixels.Height / side);
        var wanted = new Sum[across * down];
        var solved = new Sum[across * down];
        var printed = new Sum[across * down];
        var moved = new int[across * down];
        var tones = new double[across * down];
        Parallel.For(
            0,
            down,
            row =>
            {
                var work = new PlateModel.Work(job.Plates.Length);
                var at = new float[job.Plates.Length];
                for (var y = row * side; y < (row + 1) * side; y++)
                for (var x = 0; x < across * side; x++)
                {
                    var square = row * across + x / side;
                    var pixel = art.Pixels.Pixels.AsSpan(4 * (y * art.Pixels.Width + x), 4);
                    var colour = new LinearRgb(pixel[0] / 65535.0, pixel[1] / 65535.0, pixel[2] / 65535.0);
                    var (aim, ideal) = ground.Gamut.Map(colour);
                    if (Ciede2000.Difference(TonalFit.LabOf(aim), TonalFit.LabOf(ideal)) > 2)
                        moved[square]++;
                    wanted[square].Add(Srgb.ToXyz(aim.ToLinear(), TonalGround.Light));
                    for (var i = 0; i < at.Length; i++)
                        at[i] = separation.Plates[i].Wanted[x, y] / 255f;
                    tones[square] += at.Sum() / (side * side);
                    solved[square].Add(ground.Model.Xyz(at, work));
                }
            }
        );
        foreach (var seed in seeds)
        {
            var print = PrintSimulator.Print(
                films,
                separation.Grounds[0],
                press,
                Deposit.Expected,
                TonalGround.Light,
                seed
            );
            Average(print, art, across, down, side, printed);
        }
        return new([
            .. Enumerable
                .Range(0, across * down)
                .Where(i => moved[i] == 0)
                .Select(i => new Square(wanted[i].Lab, solved[i].Lab, printed[i].Lab, tones[i])),
        ]);
    }

    private static void Average(PrintedCloth print, SizedArt art, int across, int down, int side, Sum[] into)
    {
        var scale = print.Print.PixelsPerMm;
        for (var square = 0; square < into.Length; square++)
        {
            var (left, top) = (square % across * side / art.PixelsPerMm, square / across * side / art.PixelsPerMm);
            for (var y = Px(top); y < Px(top + side / art.PixelsPerMm); y++)
            {
                var row = print.Print.Row(y);
                for (var x = Px(left); x < Px(left + side / art.PixelsPerMm); x++)
                    into[square]
                        .Add(
                            Srgb.ToXyz(
                                Srgb.Decode(row[3 * x] / 255.0, row[3 * x + 1] / 255.0, row[3 * x + 2] / 255.0),
                                TonalGround.Light
                            )
                        );
            }
        }

        int Px(double mm) => (int)Math.Round((print.MarginMm + mm) * scale);
    }

    private struct Sum
    {
        private Xyz _light;
        private int _count;

        public void Add(Xyz light) => (_light, _count) = (_light + light, _count + 1);

        public readonly Lab Lab => CieLab.FromXyz(1.0 / _count * _light, TonalGround.Light);
    }
}
