using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

public sealed partial class WaveModel
{
    private ref partial struct Shot
    {
        /// <summary>Echoes outside the trains: mode-converted, side wall, ring-down.</summary>
        private void AddSpecials(ref EchoFacts facts)
        {
            Use(FrequencyGrid.LargestStride);
            if (
                _cell.ModeConvertedFraction != 0
                && _cell.ThicknessMetres > 0
                && _settings.ShearVelocityMetresPerSecond > 0
            )
                AddModeConverted(ref facts);
            if (double.IsFinite(_cell.SideWallMetres) && _cell.ThicknessMetres > 0 && _settings.Diffraction)
                AddSideWall(ref facts);
            if (_cell.AirReflects && _cell.CoupledFraction < 1)
                AddAir();
            if (_cell.RingDownFraction != 0)
                AddRingDown(facts.InterfaceAmplitude);
        }

        /// <summary>
        /// One leg longitudinal, one shear: time <c>d/c_L + d/c_S</c>, which a longitudinal reading takes for (1 + c_L/c_S)/2 walls. Its amplitude is
        /// prescribed, as part of a flat first back wall.
        /// </summary>
        private readonly void AddModeConverted(ref EchoFacts facts)
        {
            double depth = _cell.ThicknessMetres;
            double ratio = _settings.ShearVelocityMetresPerSecond / _settings.VelocityMetresPerSecond;
            double inMetal = depth / _settings.VelocityMetresPerSecond + depth / _settings.ShearVelocityMetresPerSecond;
            double spread = 0.5 * (1 + ratio);
            double coefficient = FirstWall() * _cell.ModeConvertedFraction;
            Plain(coefficient);
            Diffract(_along, _geometry.CouplantAlongMetres + spread * _geometry.MetalAlong(depth));
            Diffract(_around, _geometry.CouplantAroundMetres + spread * _geometry.MetalAround(depth));
            double time = _geometry.CouplantSeconds + _coats.FrontSeconds + inMetal;
            facts.ModeConvertedSeconds = time + _cell.DelaySeconds;
            facts.ModeConvertedAmplitude = Math.Sign(coefficient) * Size();
            Emit(time, _settings.Pulse.ReachBeforeSeconds, _settings.Pulse.ReachAfterSeconds + TailSeconds);
        }

        /// <summary>
        /// Corner between far wall and side wall: path <c>2 sqrt(s² + d²)</c>, two reflections, and the aperture's response to its own image shifted sideways by
        /// 2 s, in the far field.
        /// </summary>
        private readonly void AddSideWall(ref EchoFacts facts)
        {
            double depth = _cell.ThicknessMetres;
            double aside = Math.Abs(_cell.SideWallMetres);
            double path = Math.Sqrt(aside * aside + depth * depth);
            double angle = Math.Atan2(aside, depth);
            double onWall = SlopeReflection.Coefficient(
                angle,
                _settings.VelocityMetresPerSecond,
                _settings.ShearVelocityMetresPerSecond
            );
            double onSide = SlopeReflection.Coefficient(
                Math.PI / 2 - angle,
                _settings.VelocityMetresPerSecond,
                _settings.ShearVelocityMetresPerSecond
            );
            double through = Through();
            double coefficient = _gain * Math.Min(1, _cell.CoupledFraction) * through * onWall * onSide;
            Plain(coefficient);
            bool alongIsElements = !_cell.ArrayLiesAround;
            double side =
                _cell.SideWallIsAlong == alongIsElements ? _settings.ApertureMetres : _settings.ElevationMetres;
            for (int k = 0; k < _terms; k++)
            {
                double wavelength = _settings.VelocityMetresPerSecond / _model._grid.Hertz[k * _stride];
                double x = Math.PI * side * Math.Sin(angle) / wavelength;
                double lobe = x == 0 ? 1 : Math.Sin(x) / x;
                _work.Spectrum[k] *= Complex.FromPolarCoordinates(
                    lobe * lobe * Math.Min(1, side / Math.Sqrt(wavelength * 2 * path)),
                    -Math.PI / 4
                );
            }
            if (_cell.SideWallIsAlong)
                Diffract(_around, _geometry.CouplantAroundMetres + path);
            else
                Diffract(_along, _geometry.CouplantAlongMetres + path);
            double time =
                _geometry.CouplantSeconds + _coats.FrontSeconds + 2 * path / _settings.VelocityMetresPerSecond;
            facts.SideWallSeconds = time + _cell.DelaySeconds;
            facts.SideWallAmplitude = Math.Sign(coefficient) * Size();
            Emit(time, _settings.Pulse.ReachBeforeSeconds, _settings.Pulse.ReachAfterSeconds + TailSeconds);
        }

        /// <summary>Air on the metal under a part of the aperture: reflects whole with the sign turned, earlier by its own thickness of couplant.</summary>
        private readonly void AddAir()
        {
            double couplant = Math.Max(0, _cell.CouplantMetres - _cell.AirMetres);
            Plain(_gain * (Math.Min(1, _cell.CoupledFraction) - 1));
            for (int k = 0; k < _terms; k++)
                _work.Spectrum[k] /= _work.MetalPass[k];
            Diffract(_along, _geometry.CouplantAlongMetres);
            Diffract(_around, _geometry.CouplantAroundMetres);
            Emit(
                2 * couplant / _settings.CouplantVelocityMetresPerSecond,
                _settings.Pulse.ReachBeforeSeconds,
                _settings.Pulse.ReachAfterSeconds + TailSeconds
            );
        }

        /// <summary>Two-way transmission of the front, without rounds inside coats.</summary>
        private readonly double Through()
        {
            double outside = _settings.CouplantImpedance;
            double product = 1;
            foreach (Fields.CoatHit coat in (ReadOnlySpan<Fields.CoatHit>)[_coats.Paint, _coats.Scale])
            {
                if (!(coat.ThicknessMetres > 0))
                    continue;
                double inside = coat.DensityKilogramsPerCubicMetre * coat.VelocityMetresPerSecond;
                double r = LayerSeries.Reflection(outside, inside);
                product *= 1 - r * r;
                outside = inside;
            }
            double last = LayerSeries.Reflection(outside, _settings.Impedance);
            return product * (1 - last * last);
        }

        /// <summary>Coefficient of the first back wall, plane wave, with gain.</summary>
        private readonly double FirstWall() =>
            _gain
            * Math.Min(1, _cell.CoupledFraction)
            * Through()
            * LayerSeries.Reflection(_settings.Impedance, Impedance(_cell.Inner));

        /// <summary>Pulse times a coefficient and the attenuation of one round trip.</summary>
        private readonly void Plain(double coefficient)
        {
            PassMetal(_cell.ThicknessMetres);
            FrequencyGrid grid = _model._grid;
            for (int k = 0; k < _terms; k++)
            {
                int m = k * _stride;
                _work.Spectrum[k] =
                    new Complex(grid.SpectrumReal[m], grid.SpectrumImaginary[m])
                    * _work.MetalPass[k]
                    * (coefficient * _work.CouplantPass[m]);
            }
        }

        private readonly double Size()
        {
            int m = _model._grid.Centre;
            return _work.Spectrum[m / _stride].Magnitude
                / new Complex(_model._grid.SpectrumReal[m], _model._grid.SpectrumImaginary[m]).Magnitude;
        }

        /// <summary>The interface echo's own tail: an oscillation at the centre frequency that begins with the echo and dies off by 20 dB in the time given.</summary>
        private readonly void AddRingDown(double interfaceAmplitude)
        {
            double amplitude = interfaceAmplitude * _cell.RingDownFraction;
            double centre = _geometry.CouplantSeconds;
            double decay = Math.Log(10) / _cell.RingDownSeconds;
            double rise = 0.5 * _settings.Pulse.ReachAfterSeconds;
            double last = centre + Math.Log(Math.Max(1, Math.Abs(amplitude) / SmallestAmplitude)) / decay;
            int from = (int)Math.Max(0, Math.Ceiling((centre - _startSeconds) * _sampleRateHz));
            int to = (int)Math.Min(_samples.Length - 1, Math.Floor((last - _startSeconds) * _sampleRateHz));
            for (int i = from; i <= to; i++)
            {
                double t = _startSeconds + i / _sampleRateHz - centre;
                double envelope = Math.Exp(-decay * t) * (1 - Math.Exp(-Math.Pow(3 * t / rise, 2)));
                _samples[i] += (float)(amplitude * envelope * Math.Cos(2 * Math.PI * _settings.Pulse.CentreHz * t));
            }
        }
    }
}
