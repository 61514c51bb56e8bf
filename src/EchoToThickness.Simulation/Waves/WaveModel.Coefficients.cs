using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

public sealed partial class WaveModel
{
    /// <summary>Longest ring of a coat that the frequency grid can hold, seconds.</summary>
    internal double LongestRingSeconds => _grid.LongestExtraSeconds;

    private ref partial struct Shot
    {
        /// <summary>Fills the plane-wave coefficients of all orders: one row when nothing depends on frequency, else one for each.</summary>
        private readonly void Coefficients(in WallTrain train, int couplantOrders, int metalOrders)
        {
            double outside = _settings.CouplantImpedance;
            double metal = _settings.Impedance;
            double behind = Impedance(_cell.Inner);
            if (_coats.IsBare)
            {
                FrontCoefficients bare = Coupled(LayerSeries.Bare(outside, metal));
                Complex wall = train.Reflection ?? LayerSeries.Reflection(metal, behind);
                _work.Series.Fill(bare, wall, _settings.FaceReflection, couplantOrders, metalOrders, _work.OneRow);
                return;
            }
            int row = couplantOrders * (metalOrders + 1);
            _work.RoomForRows(_terms * row);
            double paint = CoatImpedance(_coats.Paint, outside);
            double scale = CoatImpedance(_coats.Scale, paint);
            double centre = _settings.Pulse.CentreHz;
            for (int k = 0; k < _terms; k++)
            {
                double f = _model._grid.Hertz[k * _stride];
                FrontCoefficients front = LayerSeries.Bare(scale, metal);
                if (_coats.Scale.ThicknessMetres > 0)
                    front = LayerSeries.Under(front, paint, _coats.Scale, f, centre, _coats.ScaleRounds);
                if (_coats.Paint.ThicknessMetres > 0)
                    front = LayerSeries.Under(front, outside, _coats.Paint, f, centre, _coats.PaintRounds);
                Complex wall =
                    train.Reflection
                    ?? (
                        _coats.Deposit.ThicknessMetres > 0
                            ? LayerSeries.Wall(metal, _coats.Deposit, behind, f, centre, _coats.DepositRounds)
                            : LayerSeries.Reflection(metal, behind)
                    );
                _work.Series.Fill(
                    Coupled(front),
                    wall,
                    _settings.FaceReflection,
                    couplantOrders,
                    metalOrders,
                    _work.Rows.AsSpan(k * row, row)
                );
            }
        }

        private static double CoatImpedance(in Fields.CoatHit coat, double otherwise) =>
            coat.ThicknessMetres > 0 ? coat.DensityKilogramsPerCubicMetre * coat.VelocityMetresPerSecond : otherwise;

        /// <summary>A part of the aperture under which there is air lets nothing through; what it reflects is an echo of its own.</summary>
        private readonly FrontCoefficients Coupled(in FrontCoefficients front)
        {
            double coupled = Math.Min(1, _cell.CoupledFraction);
            return new FrontCoefficients(coupled * front.Outside, coupled * front.Through, front.Inside);
        }

        /// <summary>
        /// Coherent loss of a rough outer surface: <c>exp(-2 k_w² s²)</c> for a reflection outside, <c>exp(-(k_w - k_s)² s² / 2)</c> for each of the two
        /// transmissions, <c>exp(-2 k_s² s²)</c> for a reflection inside.
        /// </summary>
        private readonly void Roughen(Span<Complex> spectrum, int p, int n)
        {
            double square = _cell.OuterRoughnessMetres * _cell.OuterRoughnessMetres;
            double slowOutside = 1 / _settings.CouplantVelocityMetresPerSecond;
            double slowInside = 1 / _settings.VelocityMetresPerSecond;
            double outside = 2 * slowOutside * slowOutside;
            double through = (slowOutside - slowInside) * (slowOutside - slowInside);
            double inside = 2 * slowInside * slowInside;
            double exponent = square * (n == 0 ? p * outside : through + (n - 1) * inside + (p - 1) * outside);
            for (int k = 0; k < _terms; k++)
            {
                double omega = 2 * Math.PI * _model._grid.Hertz[k * _stride];
                spectrum[k] *= Math.Exp(-omega * omega * exponent);
            }
        }

        /// <summary>Writes the echo in hand into the facts.</summary>
        private readonly void Note(in WallTrain train, int p, int n, ref EchoFacts facts)
        {
            bool reported = train.IsWall ? (n == 0 && p <= 2) || (p == 1 && n is 1 or 2) : n == 1 && p == 1;
            if (!reported)
                return;
            int centre = _model._grid.Centre / _stride;
            int m = _model._grid.Centre;
            double pulse = Math.Sqrt(
                _model._grid.SpectrumReal[m] * _model._grid.SpectrumReal[m]
                    + _model._grid.SpectrumImaginary[m] * _model._grid.SpectrumImaginary[m]
            );
            double size = _work.Spectrum[centre].Magnitude / pulse;
            double front = LayerSeries.Reflection(
                _settings.CouplantImpedance,
                _coats.Paint.ThicknessMetres > 0
                    ? _coats.Paint.DensityKilogramsPerCubicMetre * _coats.Paint.VelocityMetresPerSecond
                    : _settings.Impedance
            );
            if (train.IsWall && n == 0)
            {
                double sign = Math.Sign(front * (p == 1 ? 1 : _settings.FaceReflection * front));
                if (p == 1)
                    facts.InterfaceAmplitude = sign * size;
                else
                    facts.CouplantMultipleAmplitude = sign * size;
                return;
            }
            double wall = train.Reflection ?? LayerSeries.Reflection(_settings.Impedance, Impedance(_cell.Inner));
            double inside = LayerSeries.Reflection(_settings.Impedance, _settings.CouplantImpedance);
            if (!train.IsWall)
            {
                facts.LaminationSeconds =
                    _geometry.CouplantSeconds
                    + _coats.FrontSeconds
                    + _geometry.MetalSecondsPerMetre * train.DepthMetres
                    + _cell.DelaySeconds;
                facts.LaminationAmplitude = Math.Sign(wall) * size;
            }
            else if (n == 1 && size > Math.Abs(facts.BackWallAmplitude))
                facts.BackWallAmplitude = Math.Sign(wall) * size;
            else if (n == 2 && size > Math.Abs(facts.SecondBackWallAmplitude))
                facts.SecondBackWallAmplitude = Math.Sign(inside) * size;
        }
    }
}
