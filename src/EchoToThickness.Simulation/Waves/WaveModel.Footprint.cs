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
            float alongScale = (float)(0.5 / _cell.PatchSpacingAlongMetres);
            float aroundScale = (float)(0.5 / _cell.PatchSpacingAroundMetres);
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
                    float slopeAround = (here[Math.Min(around - 1, i + 1)] - here[Math.Max(0, i - 1)]) * aroundScale;
                    float slopeAlong = (after[i] - before[i]) * alongScale;
                    weights[i] = _model._slopes.At(slopeAlong * slopeAlong + slopeAround * slopeAround);
                }
            }
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
            for (int c = 0; c < classes; c++)
            {
                double low = _thinnest + c * width;
                double high = c == classes - 1 ? double.PositiveInfinity : low + width;
                double reference = low + 0.5 * width;
                if (!Classify(low, high, reference, n))
                    continue;
                double half = 0.5 * width * perMetre;
                if (_coats.IsBare)
                    Restride(_model._grid.StrideFor(2 * half + TailSeconds), train.DepthMetres, n);
                Footprint(reference, n);
                if (n == 1)
                    facts.Coherence = Math.Max(
                        c == 0 ? 0 : facts.Coherence,
                        _work.Ratio[_model._grid.Centre / _stride].Magnitude
                    );
                AddOrder(train, n, reference, half, half, true, couplantOrders, metalOrders, ref facts);
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

        /// <summary>Heights and weights of the points between two depths.</summary>
        private readonly bool Classify(double low, double high, double reference, int n)
        {
            int count = _cell.PatchAlong * _row;
            ReadOnlySpan<float> metal = _work.Metal.AsSpan(0, count);
            ReadOnlySpan<float> slopes = _work.SlopeWeights.AsSpan(0, count);
            Span<float> heights = _work.Heights.AsSpan(0, count);
            Span<float> weights = _work.Weights.AsSpan(0, count);
            float lowest = (float)low;
            float highest = (float)high;
            float zero = (float)reference;
            bool any = false;
            for (int i = 0; i < count; i++)
            {
                bool inside = metal[i] >= lowest && metal[i] < highest;
                weights[i] = inside ? slopes[i] : 0;
                heights[i] = inside ? n * (metal[i] - zero) : 0;
                any |= inside && slopes[i] != 0;
            }
            return any;
        }

        /// <summary>The sum over the footprint, divided by that of a flat wall.</summary>
        private readonly void Footprint(double depthMetres, int n)
        {
            FieldSamples inner = Field(
                _around,
                _geometry.CouplantAroundMetres + n * _geometry.MetalAround(depthMetres) + _coats.SpreadMetres,
                _cell.PatchAround,
                _cell.PatchSpacingAroundMetres
            );
            FieldSamples outer = Field(
                _along,
                _geometry.CouplantAlongMetres + n * _geometry.MetalAlong(depthMetres) + _coats.SpreadMetres,
                _cell.PatchAlong,
                _cell.PatchSpacingAlongMetres
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
