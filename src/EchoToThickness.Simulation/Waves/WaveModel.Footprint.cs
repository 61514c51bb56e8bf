using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

public sealed partial class WaveModel
{
    private ref partial struct Shot
    {
        /// <summary>Relief of one class of depths, as a share of the depth: what is farther away has another beam.</summary>
        private const double ClassShare = 0.25;
        private const int MostClasses = 16;

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

        /// <summary>
        /// The echoes with n round trips of an uneven wall. Depths are sorted into classes so that each sees the beam of its own depth; a class without
        /// points costs nothing.
        /// </summary>
        private void AddUneven(in WallTrain train, int n, int couplantOrders, int metalOrders, ref EchoFacts facts)
        {
            double range = Math.Max(0, _thickest - _thinnest);
            double mean = 0.5 * ((double)_thickest + _thinnest);
            double perMetre = n * _geometry.MetalSecondsPerMetre;
            double longest = Math.Max(0, _model._grid.LongestExtraSeconds - TailSeconds - _coats.RingSeconds);
            double widest = Math.Min(Math.Max(ClassShare * mean, 0.5e-3), longest / perMetre);
            int classes = Math.Clamp((int)Math.Ceiling(range / widest), 1, MostClasses);
            double width = range / classes;
            int strideBefore = _stride;
            if (n == 1)
                facts.Coherence = 0;
            for (int c = 0; c < classes; c++)
            {
                double low = _thinnest + c * width;
                double high = c == classes - 1 ? double.PositiveInfinity : low + width;
                if (!Classify(low, high, n, out double reference, out double nearer, out double farther))
                    continue;
                if (_coats.IsBare)
                    Restride(_model._grid.StrideFor((nearer + farther) * perMetre + TailSeconds), train.DepthMetres, n);
                Footprint(reference, n);
                if (n == 1)
                    facts.Coherence = Math.Max(facts.Coherence, _work.Ratio[_model._grid.Centre / _stride].Magnitude);
                AddOrder(
                    train,
                    n,
                    reference,
                    nearer * perMetre,
                    farther * perMetre,
                    true,
                    couplantOrders,
                    metalOrders,
                    ref facts
                );
            }
            if (_coats.IsBare)
                Restride(strideBefore, train.DepthMetres, n);
        }

        /// <summary>Changes the stride and brings the attenuation of order n to it.</summary>
        private void Restride(int stride, double depthMetres, int n)
        {
            if (stride == _stride)
                return;
            Use(stride);
            PassMetal(depthMetres);
            for (int k = 0; k < _terms; k++)
            {
                Complex power = _work.MetalPass[k];
                for (int i = 1; i < n; i++)
                    power *= _work.MetalPass[k];
                _work.MetalPower[k] = power;
            }
        }

        /// <summary>Heights and weights of the points between two depths, against their mean.</summary>
        /// <param name="low">Smallest depth, metres.</param>
        /// <param name="high">Depth below which the points lie.</param>
        /// <param name="n">Round trips: heights count n times.</param>
        /// <param name="reference">Mean depth of the points.</param>
        /// <param name="nearer">How far the thinnest of them lies before the mean.</param>
        /// <param name="farther">How far the thickest lies behind it.</param>
        /// <returns>Whether any point takes part.</returns>
        private readonly bool Classify(
            double low,
            double high,
            int n,
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
                heights[i] = weights[i] != 0 ? (float)(n * (metal[i] - reference)) : 0;
            return points > 0;
        }

        /// <summary>The sum over the footprint, divided by that of a flat wall.</summary>
        private readonly void Footprint(double depthMetres, int n)
        {
            FieldSamples inner = Field(
                _around,
                _geometry.CouplantAroundMetres + n * _geometry.MetalAround(depthMetres) + _coats.SpreadMetres,
                _cell.PatchAround,
                _cell.PatchSpacingAroundMetres * _geometry.StretchAround
            );
            FieldSamples outer = Field(
                _along,
                _geometry.CouplantAlongMetres + n * _geometry.MetalAlong(depthMetres) + _coats.SpreadMetres,
                _cell.PatchAlong,
                _cell.PatchSpacingAlongMetres * _geometry.StretchAlong
            );
            FrequencyGrid grid = _model._grid;
            double perHertz = 2 * Math.PI * _geometry.MetalSecondsPerMetre;
            var input = new FootprintInput
            {
                Heights = _work.Heights.AsSpan(0, _cell.PatchAlong * _row),
                Weights = _work.Weights.AsSpan(0, _cell.PatchAlong * _row),
                Inner = inner,
                Outer = outer,
                FirstRadiansPerMetre = (float)(perHertz * grid.FirstHz),
                StepRadiansPerMetre = (float)(perHertz * grid.StepHz * _stride),
                Stride = _stride,
                Terms = _terms,
            };
            FootprintKernel.Sum(input, _work.FootprintSums);
            for (int k = 0; k < _terms; k++)
            {
                int m = k * _stride;
                double real = 0;
                double imaginary = 0;
                for (int lane = 0; lane < FootprintKernel.Lanes; lane++)
                {
                    real += _work.FootprintSums[2 * FootprintKernel.Lanes * k + lane];
                    imaginary += _work.FootprintSums[2 * FootprintKernel.Lanes * k + FootprintKernel.Lanes + lane];
                }
                Complex flat =
                    new Complex(inner.SumReal[m], inner.SumImaginary[m])
                    * new Complex(outer.SumReal[m], outer.SumImaginary[m]);
                _work.Ratio[k] = new Complex(real, imaginary) / flat;
            }
        }

        private readonly FieldSamples Field(AxisTable? table, double distanceMetres, int count, double spacingMetres) =>
            table is null
                ? _work.UniformRow(count, spacingMetres)
                : table.Nearest(distanceMetres).SamplesOn(count, spacingMetres);
    }
}
