using System.Collections.Concurrent;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// From film bits to the flat print on one ground. Bands of rows are printed side by side on all cores and drawn when
/// their neighbours are there; what is held does not grow with the height, except the picture itself.
/// </summary>
public static class PrintSimulator
{
    /// <summary>Bare cloth around the inked extent.</summary>
    public const double UsualMarginMm = 12;

    /// <summary>Picture rows printed at a time: a band's planes then stay in the second-level cache.</summary>
    private const int BandRowCount = 32;

    /// <summary>Bands printed between two drawings.</summary>
    private const int BandsPerWave = 8;

    /// <summary>Prints the films on the plan's ground.</summary>
    /// <param name="afterScreens">Head by head: only the first so many running screens; null = all.</param>
    /// <exception cref="OperationCanceledException"><paramref name="cancellation"/> was set.</exception>
    public static PrintedCloth Print(
        Films films,
        GroundPlan plan,
        PressSettings press,
        Deposit deposit,
        ViewingLight light,
        ulong seed,
        int? afterScreens = null,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default
    ) => Print(films, plan, press, deposit, light, seed, afterScreens, progress, -1, cancellation);

    /// <param name="cores">At most so many cores; -1 = all.</param>
    internal static PrintedCloth Print(
        Films films,
        GroundPlan plan,
        PressSettings press,
        Deposit deposit,
        ViewingLight light,
        ulong seed,
        int? afterScreens,
        IProgress<double>? progress,
        int cores,
        CancellationToken cancellation
    )
    {
        var setUp = PressSetUp.Of(films, plan, press, deposit, light, seed, afterScreens);
        var sheet = new Sheet(setUp, films, light);
        var options = new ParallelOptions { MaxDegreeOfParallelism = cores, CancellationToken = cancellation };
        sheet.Print(options, progress);
        return sheet.Finish(plan.Ground, deposit);
    }

    /// <summary>The picture being made.</summary>
    private sealed class Sheet
    {
        private readonly PressSetUp _press;
        private readonly ViewingLight _light;
        private readonly float[] _weights;
        private readonly int _margin;
        private readonly int _pad;
        private readonly int _artRows;
        private readonly View _view;
        private readonly float[] _cloth;
        private readonly BandRows _clothRow;
        private readonly BandRows[] _ring;
        private readonly RgbPicture _picture;
        private readonly BytePlane _inkMask;
        private readonly BitPlane _outside;
        private readonly MirrorLayer? _mirror;
        private readonly ConcurrentBag<BandRenderer> _renderers = [];
        private readonly ConcurrentBag<ClothRows> _drawers = [];
        private readonly int _bands;

        public Sheet(PressSetUp press, Films films, ViewingLight light)
        {
            (_press, _light) = (press, light);
            var scale = press.Scale;
            _weights = OpticalSpread.Weights(press.ScatterUm, 1000 * scale.CellMm);
            _pad = press.PadCells;
            _margin = Math.Max((int)Math.Round(UsualMarginMm * scale.CellsPerMm), _pad);
            var across = (films.Width + scale.CellWidth - 1) / scale.CellWidth;
            _artRows = (films.Height + scale.CellHeight - 1) / scale.CellHeight;
            _view = new(-_pad, across + 2 * _pad, scale.CellWidth, scale.CellHeight, true);
            var (width, height) = (across + 2 * _margin, _artRows + 2 * _margin);
            _picture = new(width, height, scale.CellsPerMm);
            _inkMask = new(width, height);
            _outside = new(width, height);
            if (press.Studio is { } studio)
                _mirror = new(
                    new(width, height, scale.CellsPerMm),
                    new(width, height, scale.CellsPerMm),
                    studio.Roughness
                );
            _bands = (height + BandRowCount - 1) / BandRowCount;
            _ring = new BandRows[Math.Min(_bands, BandsPerWave + 2)];
            for (var i = 0; i < _ring.Length; i++)
                _ring[i] = new(width, BandRowCount, _weights.Length / 2);
            _cloth = press.Cloth(scale.CellWidth * scale.CellHeight);
            _clothRow = new(width, 1, _weights.Length / 2);
            _clothRow.ClothRow(0, _cloth);
        }

        public void Print(ParallelOptions options, IProgress<double>? progress)
        {
            var drawn = 0;
            for (var first = 0; first < _bands; first += BandsPerWave)
            {
                var last = Math.Min(_bands, first + BandsPerWave);
                Parallel.For(first, last, options, PrintBand);
                // A band is drawn when the one below it is printed.
                var ready = last == _bands ? last : last - 1;
                Parallel.For(drawn, ready, options, DrawBand);
                drawn = ready;
                progress?.Report(drawn / (double)_bands);
            }
        }

        public PrintedCloth Finish(Garments.Ground ground, Deposit deposit) =>
            new(
                ground,
                deposit,
                _picture,
                _inkMask,
                _outside,
                _drawers.Sum(d => d.Colour.Outside) / ((double)_picture.Width * _picture.Height),
                _drawers.Max(d => d.Colour.MaxDeltaE),
                _margin / _press.Scale.CellsPerMm,
                _press.Screens.Length,
                _press.Record
            )
            {
                Mirror = _mirror,
            };

        private void PrintBand(int band)
        {
            var rows = _ring[band % _ring.Length];
            var top = band * BandRowCount - _margin;
            if (_press.Screens.Length == 0 || top + BandRowCount <= -_pad || top >= _artRows + _pad)
            {
                for (var row = 0; row < BandRowCount; row++)
                    rows.ClothRow(row, _cloth);
                return;
            }
            if (!_renderers.TryTake(out var renderer))
                renderer = new(_press, _view, _press.Knit.Classes, BandRowCount);
            renderer.Render(top, rows, _margin - _pad);
            _renderers.Add(renderer);
        }

        private void DrawBand(int band)
        {
            if (!_drawers.TryTake(out var drawer))
                drawer = new(_press, _weights, _weights, _picture.Width, -_margin, 1, new PictureColour(_light));
            var around = new (BandRows, int)[_weights.Length];
            for (var row = 0; row < BandRowCount; row++)
            {
                var y = band * BandRowCount + row;
                if (y >= _picture.Height)
                    break;
                for (var i = 0; i < around.Length; i++)
                    around[i] = Row(y + i - around.Length / 2);
                drawer.Draw(around, y - _margin, _picture.Row(y), _outside.Row(y), _mirror, y);
                var ink = _ring[band % _ring.Length].InkRow(row);
                var mask = _inkMask.Row(y);
                for (var x = 0; x < mask.Length; x++)
                    mask[x] = (byte)(ink[x] * 255 + 0.5f);
            }
            _drawers.Add(drawer);
        }

        private (BandRows, int) Row(int y) =>
            y < 0 || y >= _picture.Height ? (_clothRow, 0) : (_ring[y / BandRowCount % _ring.Length], y % BandRowCount);
    }
}
