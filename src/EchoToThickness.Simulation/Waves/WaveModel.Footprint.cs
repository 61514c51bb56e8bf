using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

public sealed partial class WaveModel
{
    private ref partial struct Shot
    {
        /// <summary>Relief of one class of depths, as a share of the depth: what is farther away has another beam.</summary>
        private const double ClassShare = 0.25;

        /// <summary>Round trips whose relief the frequency grid is made to hold.</summary>
        private const int OrdersInWindow = 3;
        private const int MostMixed = 3;
        private const double WeakestMixed = 3e-3;

        /// <summary>Copies the patch into padded rows and weighs each point by the reflection of its slope.</summary>
        private void PreparePatch()
        {
            int along = _cell.PatchAlong;
            int around = _cell.PatchAround;
            _row = (around + FootprintKernel.Lanes - 1) / FootprintKernel.Lanes * FootprintKernel.Lanes;
            _work.RoomForPatch(along * _row);
            ReadOnlySpan<float> patch = _cell.Patch;
            (_thinnest, _thickest) = (float.MaxValue, float.MinValue);
            float alongScale = (float)(1 / _cell.PatchSpacingAlongMetres);
            float aroundScale = (float)(1 / _cell.PatchSpacingAroundMetres);
            for (int j = 0; j < along; j++)
            {
                ReadOnlySpan<float> here = patch.Slice(j * around, around);
                ReadOnlySpan<float> before = patch.Slice(Math.Max(0, j - 1) * around, around);
                ReadOnlySpan<float> after = patch.Slice(Math.Min(along - 1, j + 1) * around, around);
                Span<float> metal = _work.Metal.AsSpan(j * _row, _row);
                Span<float> weights = _work.SlopeWeights.AsSpan(j * _row, _row);
                metal.Clear();
                weights.Clear();
                for (int i = 0; i < around; i++)
                {
                    float value = here[i];
                    metal[i] = value;
                    _thinnest = Math.Min(_thinnest, value);
                    _thickest = Math.Max(_thickest, value);
                    float slopeAround =
                        aroundScale * Gentler(here[Math.Max(0, i - 1)], value, here[Math.Min(around - 1, i + 1)]);
                    float slopeAlong = alongScale * Gentler(before[i], value, after[i]);
                    weights[i] = _model._slopes.At(slopeAlong * slopeAlong + slopeAround * slopeAround);
                }
            }
        }

        /// <summary>
        /// The smaller of the differences to both neighbours (both neighbours exist but at the patch's own edge, which is tapered off): a level point beside an edge is
        /// level.
        /// </summary>
        private static float Gentler(float before, float here, float after)
        {
            float back = Math.Abs(here - before);
            float on = Math.Abs(after - here);
            return Math.Min(back, on);
        }

        /// <summary>How the depths of the patch are split: each class sees the beam of its own depth.</summary>
        /// <returns>Largest stride that holds the relief of a class, as often as <see cref="OrdersInWindow"/> round trips meet it.</returns>
        private int SplitDepths()
        {
            PreparePatch();
            double range = Math.Max(0, _thickest - _thinnest);
            double mean = 0.5 * ((double)_thickest + _thinnest);
            double longest = Math.Max(0, _model._grid.LongestExtraSeconds - TailSeconds - _coats.RingSeconds);
            double widest = Math.Min(
                Math.Max(ClassShare * mean, 0.5e-3),
                longest / _geometry.MetalSecondsPerMetre / OrdersInWindow
            );
            _classes = Math.Clamp((int)Math.Ceiling(range / widest), 1, WaveWorkspace.MostClasses);
            double extra = OrdersInWindow * range / _classes * _geometry.MetalSecondsPerMetre;
            return _model._grid.StrideFor(extra + TailSeconds + _coats.RingSeconds);
        }

        /// <summary>The footprint sum of each class of depths over that of a flat wall, for one round trip; classes without points are left out.</summary>
        private void SumFootprint(ref EchoFacts facts)
        {
            double width = Math.Max(0, _thickest - _thinnest) / _classes;
            _split = _classes;
            _classes = 0;
            facts.Coherence = 0;
            for (int c = 0; c < _split; c++)
            {
                double low = _thinnest + c * width;
                double high = c == _split - 1 ? double.PositiveInfinity : low + width;
                if (!Classify(low, high, out double reference, out double nearer, out double farther))
                    continue;
                Span<Complex> ratio = _work.ClassRatio(_classes).AsSpan(0, _terms);
                double share = Footprint(reference, 1, ratio);
                double strength = ratio[_model._grid.Centre / _stride].Magnitude;
                facts.Coherence = Math.Max(facts.Coherence, strength);
                _work.Classes[_classes++] = new DepthClass(reference, nearer, farther, strength, share, low, high);
            }
        }

        /// <summary>
        /// The echoes with n round trips of an uneven wall: each round trip meets any class, independently of the others, so the sum over classes is raised to the
        /// n-th power and every mixed term is an echo of its own.
        /// </summary>
        private readonly void AddUneven(
            in WallTrain train,
            int n,
            int couplantOrders,
            int metalOrders,
            ref EchoFacts facts
        )
        {
            _work.Ratio.AsSpan(0, _terms).Fill(Complex.One);
            AddMixed(train, n, n, 0, default, 1, couplantOrders, metalOrders, ref facts);
        }

        /// <summary>
        /// All round trips to the same class: where they meet it is independent (share to the n-th power), but its heights count n times, as neighbouring points
        /// have the same.
        /// </summary>
        private readonly void AddUnmixed(
            in WallTrain train,
            int n,
            in DepthClass one,
            int couplantOrders,
            int metalOrders,
            ref EchoFacts facts
        )
        {
            // Where depths were not split, the heights are still those in hand.
            if (_split > 1)
                Classify(one.LowMetres, one.HighMetres, out _, out _, out _);
            Span<Complex> ratio = _work.Ratio.AsSpan(0, _terms);
            Footprint(one.DepthMetres, n, ratio);
            double others = Math.Pow(Math.Min(1, one.Share), n - 1);
            for (int k = 0; k < ratio.Length; k++)
                ratio[k] *= others;
            double perMetre = n * _geometry.MetalSecondsPerMetre;
            AddOrder(
                train,
                n,
                one.DepthMetres,
                one.NearerMetres * perMetre,
                one.FartherMetres * perMetre,
                true,
                couplantOrders,
                metalOrders,
                ref facts
            );
            ratio.Fill(Complex.One);
        }

        /// <summary>Gives the remaining round trips to the classes from <paramref name="first"/> on; the workspace holds the product so far.</summary>
        private readonly void AddMixed(
            in WallTrain train,
            int n,
            int left,
            int first,
            DepthClass sum,
            double weight,
            int couplantOrders,
            int metalOrders,
            ref EchoFacts facts
        )
        {
            if (left == 0)
            {
                double perMetre = _geometry.MetalSecondsPerMetre;
                AddOrder(
                    train,
                    n,
                    sum.DepthMetres / n,
                    sum.NearerMetres * perMetre,
                    sum.FartherMetres * perMetre,
                    true,
                    couplantOrders,
                    metalOrders,
                    ref facts
                );
                return;
            }
            for (int c = first; c < _classes; c++)
            {
                DepthClass one = _work.Classes[c];
                // Mixed terms of many round trips are many and weak: beyond the third only unmixed ones.
                int least = n > MostMixed ? n : 1;
                double product = weight;
                for (int count = 1; count <= left; count++)
                {
                    product *= one.Strength * (left - count + 1) / count;
                    if (count < least)
                        continue;
                    if (product < WeakestMixed && !(count == n && one.Strength > WeakestMixed))
                        continue;
                    Span<Complex> kept = _work.KeptRatio(left).AsSpan(0, _terms);
                    _work.Ratio.AsSpan(0, _terms).CopyTo(kept);
                    Complex[] ratio = _work.ClassRatio(c);
                    if (count == n && n is > 1 and <= MostMixed)
                    {
                        AddUnmixed(train, n, one, couplantOrders, metalOrders, ref facts);
                        continue;
                    }
                    double ways = 1;
                    for (int i = 0; i < count; i++)
                        ways *= (double)(left - i) / (i + 1);
                    for (int k = 0; k < _terms; k++)
                    {
                        Complex power = ratio[k] * ways;
                        for (int i = 1; i < count; i++)
                            power *= ratio[k];
                        _work.Ratio[k] *= power;
                    }
                    AddMixed(
                        train,
                        n,
                        left - count,
                        c + 1,
                        new DepthClass(
                            sum.DepthMetres + count * one.DepthMetres,
                            sum.NearerMetres + count * one.NearerMetres,
                            sum.FartherMetres + count * one.FartherMetres,
                            0,
                            0,
                            0,
                            0
                        ),
                        product,
                        couplantOrders,
                        metalOrders,
                        ref facts
                    );
                    kept.CopyTo(_work.Ratio);
                }
            }
        }

        /// <summary>Heights and weights of the points between two depths, against their mean.</summary>
        /// <param name="low">Smallest depth, metres.</param>
        /// <param name="high">Depth below which the points lie.</param>
        /// <param name="reference">Mean depth of the points.</param>
        /// <param name="nearer">How far the thinnest of them lies before the mean.</param>
        /// <param name="farther">How far the thickest lies behind it.</param>
        /// <returns>Whether any point takes part.</returns>
        private readonly bool Classify(
            double low,
            double high,
            out double reference,
            out double nearer,
            out double farther
        )
        {
            int count = _cell.PatchAlong * _row;
            ReadOnlySpan<float> metal = _work.Metal.AsSpan(0, count);
            ReadOnlySpan<float> slopes = _work.SlopeWeights.AsSpan(0, count);
            Span<float> heights = _work.Heights.AsSpan(0, count);
            Span<float> weights = _work.Weights.AsSpan(0, count);
            float lowest = (float)low;
            float highest = (float)high;
            double sum = 0;
            int points = 0;
            (float thin, float thick) = (float.MaxValue, float.MinValue);
            for (int i = 0; i < count; i++)
            {
                bool inside = metal[i] >= lowest && metal[i] < highest && slopes[i] != 0;
                weights[i] = inside ? slopes[i] : 0;
                if (!inside)
                    continue;
                sum += metal[i];
                points++;
                thin = Math.Min(thin, metal[i]);
                thick = Math.Max(thick, metal[i]);
            }
            reference = points > 0 ? sum / points : 0;
            (nearer, farther) = (Math.Max(0, reference - thin), Math.Max(0, thick - reference));
            for (int i = 0; i < count; i++)
                heights[i] = weights[i] != 0 ? (float)(metal[i] - reference) : 0;
            return points > 0;
        }

        /// <summary>The sum over the footprint, divided by that of a flat wall, with heights and beam of n round trips.</summary>
        /// <returns>For one round trip the same at the centre frequency for level points, their share of the footprint; else 1.</returns>
        private readonly double Footprint(double depthMetres, int n, Span<Complex> ratio)
        {
            FieldSamples inner = Field(
                _around,
                _geometry.CouplantAroundMetres + n * _geometry.MetalAround(depthMetres) + _coats.SpreadMetres,
                _cell.PatchAround,
                _cell.PatchSpacingAroundMetres * Stepped(_geometry.StretchAround)
            );
            FieldSamples outer = Field(
                _along,
                _geometry.CouplantAlongMetres + n * _geometry.MetalAlong(depthMetres) + _coats.SpreadMetres,
                _cell.PatchAlong,
                _cell.PatchSpacingAlongMetres * Stepped(_geometry.StretchAlong)
            );
            FrequencyGrid grid = _model._grid;
            double perHertz = 2 * Math.PI * n * _geometry.MetalSecondsPerMetre;
            var input = new FootprintInput
            {
                Heights = _work.Heights.AsSpan(0, _cell.PatchAlong * _row),
                Weights = _work.Weights.AsSpan(0, _cell.PatchAlong * _row),
                Inner = inner,
                Outer = outer,
                FirstRadiansPerMetre = (float)(perHertz * grid.FirstHz),
                StepRadiansPerMetre = (float)(perHertz * grid.StepHz * _stride),
                Stride = 1,
                Terms = _terms,
            };
            FootprintKernel.Sum(input, _work.FootprintSums);
            for (int k = 0; k < _terms; k++)
            {
                double real = 0;
                double imaginary = 0;
                for (int lane = 0; lane < FootprintKernel.Lanes; lane++)
                {
                    real += _work.FootprintSums[2 * FootprintKernel.Lanes * k + lane];
                    imaginary += _work.FootprintSums[2 * FootprintKernel.Lanes * k + FootprintKernel.Lanes + lane];
                }
                Complex flat =
                    new Complex(inner.SumReal[k], inner.SumImaginary[k])
                    * new Complex(outer.SumReal[k], outer.SumImaginary[k]);
                ratio[k] = new Complex(real, imaginary) / flat;
            }
            return n == 1 ? Share(inner, outer) : 1;
        }

        private readonly double Share(FieldSamples inner, FieldSamples outer)
        {
            int m = _model._grid.Centre / _stride;
            Complex sum = Complex.Zero;
            for (int j = 0; j < outer.Count; j++)
            {
                double real = 0;
                double imaginary = 0;
                for (int i = 0; i < inner.Count; i++)
                {
                    float weight = _work.Weights[j * _row + i];
                    real += weight * inner.Real[m * inner.Row + i];
                    imaginary += weight * inner.Imaginary[m * inner.Row + i];
                }
                sum +=
                    new Complex(real, imaginary)
                    * new Complex(outer.Real[m * outer.Row + j], outer.Imaginary[m * outer.Row + j]);
            }
            Complex flat =
                new Complex(inner.SumReal[m], inner.SumImaginary[m])
                * new Complex(outer.SumReal[m], outer.SumImaginary[m]);
            return (sum / flat).Magnitude;
        }

        /// <summary>
        /// Curvature stretches the patch by a number that changes with every couplant; in steps of 0.5 % the fields of one cell serve others. The
        /// field is then up to 0.25 % too wide or too narrow, a sixth of what the steps of the distance do; sums are over the same field of a flat wall.
        /// </summary>
        private static double Stepped(double stretch) => Math.Exp(Math.Round(Math.Log(stretch) / 0.005) * 0.005);

        private readonly FieldSamples Field(AxisTable? table, double distanceMetres, int count, double spacingMetres) =>
            table is null
                ? _work.UniformRow(count, spacingMetres)
                : table.Nearest(distanceMetres).SamplesOn(count, spacingMetres, _stride);
    }
}
