using System.Runtime.Intrinsics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// The sum over the footprint, <c>E_m = sum over rows j and points i of P_m(j) Q_m(i) w(j,i) exp(i kappa_m h(j,i))</c> with kappa_m equally
/// spaced: the phases are turned from one frequency to the next. Vector and scalar form give the same bits.
/// </summary>
internal static class FootprintKernel
{
    /// <summary>Points that are turned together.</summary>
    public const int Lanes = 16;

    private const float TwoOverPi = 0.636619772f;
    private const float HalfPiHigh = 1.57079637f;
    private const float HalfPiLow = -4.37113883e-8f;

    // Minimax polynomials on -pi/4..pi/4 (single precision, error below 1e-7).
    private const float S3 = -1.6666654611e-1f;
    private const float S5 = 8.3321608736e-3f;
    private const float S7 = -1.9515295891e-4f;
    private const float C4 = 4.166664568298827e-2f;
    private const float C6 = -1.388731625493765e-3f;
    private const float C8 = 2.443315711809948e-5f;

    /// <summary>Sums with vectors.</summary>
    /// <param name="input">Heights, weights and fields.</param>
    /// <param name="sums">Shape [term, 2, 16]: scratch; afterwards the real and imaginary part of each lane.</param>
    public static void Sum(in FootprintInput input, Span<float> sums)
    {
        sums = sums[..(input.Terms * 2 * Lanes)];
        sums.Clear();
        int row = input.Inner.Row;
        Vector512<float> first = Vector512.Create(input.FirstRadiansPerMetre);
        Vector512<float> step = Vector512.Create(input.StepRadiansPerMetre);
        int innerStep = input.Stride * row;
        int outerStep = input.Stride * input.Outer.Row;
        ReadOnlySpan<float> innerReal = input.Inner.Real;
        ReadOnlySpan<float> innerImaginary = input.Inner.Imaginary;
        ReadOnlySpan<float> outerReal = input.Outer.Real;
        ReadOnlySpan<float> outerImaginary = input.Outer.Imaginary;
        for (int j = 0; j < input.Outer.Count; j++)
        {
            for (int i = 0; i < row; i += Lanes)
            {
                Vector512<float> weight = Vector512.Create(input.Weights[(j * row + i)..]);
                if (Vector512.EqualsAll(weight, Vector512<float>.Zero))
                    continue;
                Vector512<float> height = Vector512.Create(input.Heights[(j * row + i)..]);
                (Vector512<float> zr, Vector512<float> zi) = CosineSine(height * first);
                (Vector512<float> sr, Vector512<float> si) = CosineSine(height * step);
                zr *= weight;
                zi *= weight;
                for (int m = 0; m < input.Terms; m++)
                {
                    Vector512<float> qr = Vector512.Create(innerReal[(m * innerStep + i)..]);
                    Vector512<float> qi = Vector512.Create(innerImaginary[(m * innerStep + i)..]);
                    (Vector512<float> tr, Vector512<float> ti) = Multiply(qr, qi, zr, zi);
                    (zr, zi) = Multiply(zr, zi, sr, si);
                    Vector512<float> pr = Vector512.Create(outerReal[m * outerStep + j]);
                    Vector512<float> pi = Vector512.Create(outerImaginary[m * outerStep + j]);
                    Span<float> re = sums.Slice(2 * Lanes * m, Lanes);
                    Span<float> im = sums.Slice(2 * Lanes * m + Lanes, Lanes);
                    (tr, ti) = Multiply(tr, ti, pr, pi);
                    (Vector512.Create<float>(re) + tr).CopyTo(re);
                    (Vector512.Create<float>(im) + ti).CopyTo(im);
                }
            }
        }
    }

    /// <summary>The same sum one point at a time: the reference.</summary>
    /// <param name="input">Heights, weights and fields.</param>
    /// <param name="sums">Shape [term, 2, 16]: scratch; afterwards the real and imaginary part of each lane.</param>
    public static void SumScalar(in FootprintInput input, Span<float> sums)
    {
        sums = sums[..(input.Terms * 2 * Lanes)];
        sums.Clear();
        int row = input.Inner.Row;
        for (int j = 0; j < input.Outer.Count; j++)
        {
            for (int i = 0; i < row; i++)
            {
                float weight = input.Weights[j * row + i];
                (float zr, float zi) = CosineSine(input.Heights[j * row + i] * input.FirstRadiansPerMetre);
                (float sr, float si) = CosineSine(input.Heights[j * row + i] * input.StepRadiansPerMetre);
                (zr, zi) = (zr * weight, zi * weight);
                for (int m = 0; m < input.Terms; m++)
                {
                    int inner = m * input.Stride * row + i;
                    int outer = m * input.Stride * input.Outer.Row + j;
                    (float tr, float ti) = Multiply(input.Inner.Real[inner], input.Inner.Imaginary[inner], zr, zi);
                    (zr, zi) = Multiply(zr, zi, sr, si);
                    (tr, ti) = Multiply(tr, ti, input.Outer.Real[outer], input.Outer.Imaginary[outer]);
                    sums[2 * Lanes * m + i % Lanes] += tr;
                    sums[2 * Lanes * m + Lanes + i % Lanes] += ti;
                }
            }
        }
    }

    /// <summary>Cosine and sine, single precision, arguments up to some thousand.</summary>
    /// <param name="radians">Argument.</param>
    internal static (float Cosine, float Sine) CosineSine(float radians)
    {
        float q = MathF.Round(radians * TwoOverPi);
        float r = MathF.FusedMultiplyAdd(-q, HalfPiHigh, radians);
        r = MathF.FusedMultiplyAdd(-q, HalfPiLow, r);
        float r2 = r * r;
        float s = MathF.FusedMultiplyAdd(r2, S7, S5);
        s = MathF.FusedMultiplyAdd(s, r2, S3);
        s = MathF.FusedMultiplyAdd(s * r2, r, r);
        float c = MathF.FusedMultiplyAdd(r2, C8, C6);
        c = MathF.FusedMultiplyAdd(c, r2, C4);
        c = MathF.FusedMultiplyAdd(c, r2, -0.5f);
        c = MathF.FusedMultiplyAdd(c, r2, 1f);
        int quadrant = (int)q & 3;
        (float x, float y) = (quadrant & 1) == 0 ? (c, s) : (s, c);
        return ((quadrant is 1 or 2) ? -x : x, quadrant >= 2 ? -y : y);
    }

    private static (Vector512<float> Cosine, Vector512<float> Sine) CosineSine(Vector512<float> radians)
    {
        Vector512<float> q = Vector512.Round(radians * TwoOverPi);
        Vector512<float> r = Vector512.FusedMultiplyAdd(-q, Vector512.Create(HalfPiHigh), radians);
        r = Vector512.FusedMultiplyAdd(-q, Vector512.Create(HalfPiLow), r);
        Vector512<float> r2 = r * r;
        Vector512<float> s = Vector512.FusedMultiplyAdd(r2, Vector512.Create(S7), Vector512.Create(S5));
        s = Vector512.FusedMultiplyAdd(s, r2, Vector512.Create(S3));
        s = Vector512.FusedMultiplyAdd(s * r2, r, r);
        Vector512<float> c = Vector512.FusedMultiplyAdd(r2, Vector512.Create(C8), Vector512.Create(C6));
        c = Vector512.FusedMultiplyAdd(c, r2, Vector512.Create(C4));
        c = Vector512.FusedMultiplyAdd(c, r2, Vector512.Create(-0.5f));
        c = Vector512.FusedMultiplyAdd(c, r2, Vector512.Create(1f));
        Vector512<int> quadrant = Vector512.ConvertToInt32(q);
        Vector512<int> odd = Vector512.Equals(quadrant & Vector512.Create(1), Vector512.Create(1));
        Vector512<float> x = Vector512.ConditionalSelect(odd.AsSingle(), s, c);
        Vector512<float> y = Vector512.ConditionalSelect(odd.AsSingle(), c, s);
        // The sign bit: cosine in quadrants 1 and 2, sine in 2 and 3.
        Vector512<int> flipX = ((quadrant + Vector512.Create(1)) & Vector512.Create(2)) << 30;
        Vector512<int> flipY = (quadrant & Vector512.Create(2)) << 30;
        return ((x.AsInt32() ^ flipX).AsSingle(), (y.AsInt32() ^ flipY).AsSingle());
    }

    private static (Vector512<float> Real, Vector512<float> Imaginary) Multiply(
        Vector512<float> ar,
        Vector512<float> ai,
        Vector512<float> br,
        Vector512<float> bi
    ) => (Vector512.FusedMultiplyAdd(-ai, bi, ar * br), Vector512.FusedMultiplyAdd(ai, br, ar * bi));

    private static (float Real, float Imaginary) Multiply(float ar, float ai, float br, float bi) =>
        (MathF.FusedMultiplyAdd(-ai, bi, ar * br), MathF.FusedMultiplyAdd(ai, br, ar * bi));
}
