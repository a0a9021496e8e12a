using System.Collections.Immutable;

namespace ProofDesk.Printing.Cutting;

/// <summary>A closed line, mm from the top left corner of the image.</summary>
/// <param name="IsHole">What it encloses is weeded out.</param>
public sealed record Contour(ImmutableArray<(double X, double Y)> Points, bool IsHole)
{
    /// <summary>Enclosed area, mm2 (the shoelace formula).</summary>
    public double AreaMm2
    {
        get
        {
            double sum = 0;
            for (var i = 0; i < Points.Length; i++)
            {
                var (a, b) = (Points[i], Points[(i + 1) % Points.Length]);
                sum += a.X * b.Y - b.X * a.Y;
            }
            return Math.Abs(sum) / 2;
        }
    }

    /// <summary>Way of the knife, mm.</summary>
    public double LengthMm
    {
        get
        {
            double sum = 0;
            for (var i = 0; i < Points.Length; i++)
            {
                var (a, b) = (Points[i], Points[(i + 1) % Points.Length]);
                sum += Math.Sqrt((b.X - a.X) * (b.X - a.X) + (b.Y - a.Y) * (b.Y - a.Y));
            }
            return sum;
        }
    }

    public Box Box => new(Points.Min(p => p.X), Points.Min(p => p.Y), Points.Max(p => p.X), Points.Max(p => p.Y));

    /// <summary>Whether a point lies within, by counting the edges to its right.</summary>
    public bool Holds((double X, double Y) point)
    {
        var inside = false;
        for (int i = 0, j = Points.Length - 1; i < Points.Length; j = i++)
        {
            var (a, b) = (Points[i], Points[j]);
            if (a.Y > point.Y != b.Y > point.Y && point.X < (b.X - a.X) * (point.Y - a.Y) / (b.Y - a.Y) + a.X)
                inside = !inside;
        }
        return inside;
    }
}

/// <summary>A rectangle, mm.</summary>
public readonly record struct Box(double Left, double Top, double Right, double Bottom)
{
    public double Width => Right - Left;
    public double Height => Bottom - Top;

    public bool Touches(Box other, double gap) =>
        Left <= other.Right + gap
        && other.Left <= Right + gap
        && Top <= other.Bottom + gap
        && other.Top <= Bottom + gap;

    public Box With(Box other) =>
        new(
            Math.Min(Left, other.Left),
            Math.Min(Top, other.Top),
            Math.Max(Right, other.Right),
            Math.Max(Bottom, other.Bottom)
        );
}
