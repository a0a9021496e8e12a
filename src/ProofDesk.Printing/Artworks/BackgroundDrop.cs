using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>
/// Takes a plain background away. What is connected to the border and has its colour becomes transparent; the same
/// colour enclosed by the drawing stays. Edge pixels are mixtures of background and drawing, C = a F + (1 - a) B in sRGB
/// codes (where drawing programs blend): walking inwards from the background, colour moves away from B until it
/// reaches F; then a = |C - B| / |F - B| and the pixel's colour becomes F. A soft fade is the same with a longer walk.
/// </summary>
internal static class BackgroundDrop
{
    /// <summary>An antialiased edge is over after so many pixels.</summary>
    private const int EdgePixels = 3;

    /// <summary>A fade may stay on one level for so many pixels: 8-bit steps of a fade over 4000 px.</summary>
    private const int LevelPixels = 16;

    /// <summary>A fade moves at most so many codes from pixel to pixel; an edge moves faster.</summary>
    private const int FadeStep = 14;

    /// <summary>How far behind an edge the drawing's own colour is looked for, px; how short a walk is no fade; how many pixels show it; and how far compression overshoots, codes.</summary>
    private const int Behind = 3;
    private const int NoFade = 8;
    private const int LeastBehind = 4;
    private const int Overshoot = 80;

    /// <param name="Farthest">The largest distance so far, and Level the pixels since it last grew.</param>
    private record struct Walked(int Pixel, float Distance, int Steps, float Farthest, int Level, bool Fade);

    public static RgbaRaster Drop(RgbaRaster art, Background background, SrgbCodes codes)
    {
        var result = new RgbaRaster(art.Width, art.Height, [.. art.Pixels]);
        var state = new byte[(long)art.Width * art.Height];
        Flood(art, background, codes, state);
        var walked = Walk(art, background, codes, state);
        for (var i = 0; i < state.Length; i++)
            if (state[i] == Gone)
                result.Pixels.AsSpan(i * 4, 4).Clear();
        Unmix(art, background, codes, walked, state, result);
        BackgroundSpecks.Clear(result, background, codes);
        return result;
    }

    private const byte Kept = 0;
    private const byte Gone = 1;
    private const byte Reached = 2;

    private static void Flood(RgbaRaster art, Background background, SrgbCodes codes, byte[] state)
    {
        var (width, height) = (art.Width, art.Height);
        var waiting = new Stack<(int X, int Y)>(Background.Border(width, height));
        bool Takes(int x, int y) =>
            state[y * width + x] == Kept && Largest(art, background, codes, y * width + x) <= Background.Tolerance;
        while (waiting.TryPop(out var seed))
        {
            if (!Takes(seed.X, seed.Y))
                continue;
            var (from, to) = (seed.X, seed.X);
            while (from > 0 && Takes(from - 1, seed.Y))
                from--;
            while (to < width - 1 && Takes(to + 1, seed.Y))
                to++;
            state.AsSpan(seed.Y * width + from, to - from + 1).Fill(Gone);
            for (var side = -1; side <= 1; side += 2)
            {
                var y = seed.Y + side;
                if (y < 0 || y >= height)
                    continue;
                var open = false;
                for (var x = from; x <= to; x++)
                {
                    var takes = Takes(x, y);
                    if (takes && !open)
                        waiting.Push((x, y));
                    open = takes;
                }
            }
        }
    }

    private static List<Walked> Walk(RgbaRaster art, Background background, SrgbCodes codes, byte[] state)
    {
        var (width, height) = (art.Width, art.Height);
        var walked = new List<Walked>();
        void Reach(int pixel, Walked from, bool first)
        {
            if (state[pixel] != Kept)
                return;
            var distance = Distance(art, background, codes, pixel);
            var step = distance - from.Distance;
            var fade = from.Fade && step <= FadeStep;
            var grows = distance > from.Farthest + 1;
            var level = grows ? 0 : from.Level + 1;
            var goesOn = first || step > 1 || fade && step > -3 && level <= LevelPixels;
            if (!goesOn || !fade && from.Steps >= EdgePixels)
                return;
            if (!first && from.Distance > 24 && !SameWay(art, background, codes, pixel, from.Pixel))
                return;
            state[pixel] = Reached;
            walked.Add(new(pixel, distance, from.Steps + 1, grows ? distance : from.Farthest, level, fade));
        }
        for (var i = 0; i < state.Length; i++)
        {
            if (state[i] != Gone || !HasKeptNeighbour(state, i, width, height))
                continue;
            var distance = Distance(art, background, codes, i);
            foreach (var pixel in Around(i, width, height))
                Reach(pixel, new(i, distance, 0, distance, 0, true), true);
        }
        for (var i = 0; i < walked.Count; i++)
            foreach (var pixel in Around(walked[i].Pixel, width, height))
                Reach(pixel, walked[i], false);
        return walked;
    }

    private static IEnumerable<int> Around(int pixel, int width, int height)
    {
        var (x, y) = (pixel % width, pixel / width);
        for (var ny = Math.Max(0, y - 1); ny <= Math.Min(height - 1, y + 1); ny++)
        for (var nx = Math.Max(0, x - 1); nx <= Math.Min(width - 1, x + 1); nx++)
            if (nx != x || ny != y)
                yield return ny * width + nx;
    }

    private static bool HasKeptNeighbour(byte[] state, int i, int width, int height)
    {
        var (x, y) = (i % width, i / width);
        return x > 0 && state[i - 1] != Gone
            || x < width - 1 && state[i + 1] != Gone
            || y > 0 && state[i - width] != Gone
            || y < height - 1 && state[i + width] != Gone;
    }

    private static void Unmix(
        RgbaRaster art,
        Background background,
        SrgbCodes codes,
        List<Walked> walked,
        byte[] state,
        RgbaRaster to
    )
    {
        // The farthest colour each walk comes to, handed back from its end to its beginning. A pixel takes it from any
        // neighbour, because walks that meet share their ends.
        var order = new Dictionary<int, int>(walked.Count);
        var ends = new int[walked.Count];
        for (var i = 0; i < ends.Length; i++)
            order[walked[i].Pixel] = ends[i] = i;
        for (var i = ends.Length - 1; i >= 0; i--)
            foreach (var pixel in Around(walked[i].Pixel, art.Width, art.Height))
                if (
                    order.TryGetValue(pixel, out var next)
                    && walked[ends[next]].Distance > walked[ends[i]].Distance
                    && (
                        walked[i].Distance <= 24
                        || SameWay(art, background, codes, walked[i].Pixel, walked[ends[next]].Pixel)
                    )
                )
                    ends[i] = ends[next];
        for (var i = 0; i < ends.Length; i++)
        {
            var end = walked[ends[i]];
            var share = Math.Clamp(walked[i].Distance / Math.Max(1f, end.Distance), 0f, 1f);
            var pixel = to.Pixels.AsSpan(walked[i].Pixel * 4, 4);
            art.Pixels.AsSpan(end.Pixel * 4, 3).CopyTo(pixel);
            if (!walked[i].Fade || end.Steps <= NoFade)
                Settle(art, codes, state, end.Pixel, pixel);
            pixel[3] = (ushort)Math.Round(65535 * share);
        }
    }

    /// <summary>
    /// At a hard edge compression overshoots: the farthest colour is darker than the drawing behind it. What was kept there has
    /// the drawing's own colour.
    /// </summary>
    private static void Settle(RgbaRaster art, SrgbCodes codes, byte[] state, int end, Span<ushort> pixel)
    {
        var (x, y) = (end % art.Width, end / art.Width);
        long r = 0,
            g = 0,
            b = 0;
        var count = 0;
        for (var ny = Math.Max(0, y - Behind); ny <= Math.Min(art.Height - 1, y + Behind); ny++)
        for (var nx = Math.Max(0, x - Behind); nx <= Math.Min(art.Width - 1, x + Behind); nx++)
        {
            var at = ny * art.Width + nx;
            if (state[at] != Kept || !Alike(art, codes, at, end))
                continue;
            var p = art.Pixels.AsSpan(at * 4, 3);
            (r, g, b, count) = (r + p[0], g + p[1], b + p[2], count + 1);
        }
        if (count >= LeastBehind)
            (pixel[0], pixel[1], pixel[2]) = ((ushort)(r / count), (ushort)(g / count), (ushort)(b / count));
    }

    private static bool Alike(RgbaRaster art, SrgbCodes codes, int one, int other)
    {
        var p = art.Pixels.AsSpan(one * 4, 3);
        var q = art.Pixels.AsSpan(other * 4, 3);
        return Math.Abs(codes[p[0]] - codes[q[0]]) <= Overshoot
            && Math.Abs(codes[p[1]] - codes[q[1]]) <= Overshoot
            && Math.Abs(codes[p[2]] - codes[q[2]]) <= Overshoot;
    }

    private static int Largest(RgbaRaster art, Background b, SrgbCodes codes, int pixel)
    {
        var p = art.Pixels.AsSpan(pixel * 4, 3);
        return (int)
            Math.Max(Math.Abs(codes[p[0]] - b.R), Math.Max(Math.Abs(codes[p[1]] - b.G), Math.Abs(codes[p[2]] - b.B)));
    }

    private static (double R, double G, double B) Away(RgbaRaster art, Background b, SrgbCodes codes, int pixel)
    {
        var p = art.Pixels.AsSpan(pixel * 4, 3);
        return (codes[p[0]] - b.R, codes[p[1]] - b.G, codes[p[2]] - b.B);
    }

    private static float Distance(RgbaRaster art, Background b, SrgbCodes codes, int pixel)
    {
        var (r, g, bl) = Away(art, b, codes, pixel);
        return (float)Math.Sqrt(r * r + g * g + bl * bl);
    }

    /// <summary>Both colours lie in the same direction from the background: within about 18 degrees.</summary>
    private static bool SameWay(RgbaRaster art, Background b, SrgbCodes codes, int one, int other)
    {
        var (r1, g1, b1) = Away(art, b, codes, one);
        var (r2, g2, b2) = Away(art, b, codes, other);
        var dot = r1 * r2 + g1 * g2 + b1 * b2;
        return dot > 0 && dot * dot > 0.9025 * (r1 * r1 + g1 * g1 + b1 * b1) * (r2 * r2 + g2 * g2 + b2 * b2);
    }
}
