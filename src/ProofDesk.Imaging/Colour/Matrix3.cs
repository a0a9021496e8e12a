namespace ProofDesk.Imaging.Colour;

/// <summary>A 3 x 3 matrix acting on column vectors; colour spaces are derived with it, not typed in.</summary>
internal sealed class Matrix3
{
    private readonly double[,] _m;

    internal Matrix3(double[,] rows) => _m = rows;

    internal double this[int row, int column] => _m[row, column];

    internal static Matrix3 Diagonal(double a, double b, double c) =>
        new(
            new[,]
            {
                { a, 0, 0 },
                { 0, b, 0 },
                { 0, 0, c },
            }
        );

    internal (double X, double Y, double Z) Times(double x, double y, double z) =>
        (
            _m[0, 0] * x + _m[0, 1] * y + _m[0, 2] * z,
            _m[1, 0] * x + _m[1, 1] * y + _m[1, 2] * z,
            _m[2, 0] * x + _m[2, 1] * y + _m[2, 2] * z
        );

    internal Matrix3 Times(Matrix3 other)
    {
        var product = new double[3, 3];
        for (var r = 0; r < 3; r++)
        for (var c = 0; c < 3; c++)
            product[r, c] = _m[r, 0] * other[0, c] + _m[r, 1] * other[1, c] + _m[r, 2] * other[2, c];
        return new(product);
    }

    /// <summary>The inverse by cofactors; the matrices of colour spaces are far from singular.</summary>
    internal Matrix3 Inverse()
    {
        var cofactors = new double[3, 3];
        for (var r = 0; r < 3; r++)
        for (var c = 0; c < 3; c++)
        {
            var (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
            cofactors[r, c] = _m[r1, c1] * _m[r2, c2] - _m[r1, c2] * _m[r2, c1];
        }
        var determinant = _m[0, 0] * cofactors[0, 0] + _m[0, 1] * cofactors[0, 1] + _m[0, 2] * cofactors[0, 2];
        var inverse = new double[3, 3];
        for (var r = 0; r < 3; r++)
        for (var c = 0; c < 3; c++)
            inverse[r, c] = cofactors[c, r] / determinant;
        return new(inverse);
    }
}
