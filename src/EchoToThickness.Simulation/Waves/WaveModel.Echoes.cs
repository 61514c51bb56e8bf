using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

public sealed partial class WaveModel
{
    /// <summary>Adds the echoes of one cell to an A-scan.</summary>
    /// <param name="cell">The cell.</param>
    /// <param name="startSeconds">Time of sample 0, from the instant at which the pulse's centre leaves the array.</param>
    /// <param name="sampleRateHz">Samples a second; above twice the highest frequency of the pulse, or the echoes fold.</param>
    /// <param name="samples">Shape [sample]: echoes are added, fraction of full scale, not clipped.</param>
    /// <param name="workspace">Scratch of this thread, made by this model.</param>
    /// <param name="facts">What was added.</param>
    /// <remarks>
    /// No allocation, except that tables of beam fields are made when a distance, tilt or curvature is met for the first time.
    /// </remarks>
    public void AddEchoes(
        CellView cell,
        double startSeconds,
        double sampleRateHz,
        Span<float> samples,
        WaveWorkspace workspace,
        out EchoFacts facts
    )
    {
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(workspace);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sampleRateHz);
        ArgumentOutOfRangeException.ThrowIfLessThan(cell.Beam, -1);
        if (cell.Beam >= 0 && _beams.Length > 0)
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(cell.Beam, _beams.Length);
        facts = EchoFacts.None;
        if (samples.IsEmpty || !(cell.CoupledFraction > 0))
            return;
        var shot = new Shot(this, cell, startSeconds, sampleRateHz, samples, workspace);
        shot.Add(ref facts);
    }

    /// <summary>One A-scan in the making.</summary>
    private ref partial struct Shot
    {
        private readonly WaveModel _model;
        private readonly WaveSettings _settings;
        private readonly CellView _cell;
        private readonly WaveWorkspace _work;
        private readonly CellGeometry _geometry;
        private readonly CoatFacts _coats;
        private readonly double _startSeconds;
        private readonly double _endSeconds;
        private readonly double _sampleRateHz;
        private readonly Span<float> _samples;
        private readonly ReadOnlySpan<float> _rotations;
        private readonly AxisTable? _along;
        private readonly AxisTable? _around;
        private readonly double _gain;
        private int _stride;
        private int _terms;
        private float _thinnest;
        private float _thickest;
        private int _row;
        private int _classes;
        private int _split;

        public Shot(
            WaveModel model,
            CellView cell,
            double startSeconds,
            double sampleRateHz,
            Span<float> samples,
            WaveWorkspace workspace
        )
        {
            _model = model;
            _settings = model.Settings;
            _cell = cell;
            _work = workspace;
            _geometry = new CellGeometry(_settings, cell);
            _coats = new CoatFacts(model, cell);
            _startSeconds = startSeconds - cell.DelaySeconds;
            _endSeconds = _startSeconds + samples.Length / sampleRateHz;
            _sampleRateHz = sampleRateHz;
            _samples = samples;
            _rotations = workspace.Rotations(sampleRateHz);
            ApertureAxis elements = cell.Beam >= 0 && model._beams.Length > 0 ? model._beams[cell.Beam] : model._sound;
            double working =
                cell.Beam >= 0
                    ? (_settings.Diffraction ? 1 : elements.MeanGain * elements.MeanGain)
                    : cell.ActiveFraction * cell.ActiveFraction;
            _gain = model._scale * cell.GainFactor * working;
            if (_settings.Diffraction)
            {
                (ApertureAxis along, ApertureAxis around) = cell.ArrayLiesAround
                    ? (model._elevation, elements)
                    : (elements, model._elevation);
                _along = Table(along, cell.TiltAlongRadians, cell.RadiusAlongMetres);
                _around = Table(around, cell.TiltAroundRadians, cell.RadiusAroundMetres);
            }
            Use(FrequencyGrid.LargestStride);
        }

        private readonly AxisTable? Table(ApertureAxis axis, double tiltRadians, double radiusMetres)
        {
            if (double.IsInfinity(_settings.ElevationMetres) && ReferenceEquals(axis, _model._elevation))
                return null;
            return _model._tables.For(
                axis,
                tiltRadians,
                _settings.IsConformal ? 0 : 1 / (radiusMetres + _cell.CouplantMetres)
            );
        }

        private void Use(int stride)
        {
            _stride = stride;
            _terms = (_model._grid.Count - 1) / stride + 1;
        }

        /// <summary>All echoes.</summary>
        public void Add(ref EchoFacts facts)
        {
            double entry = _geometry.CouplantSeconds + _coats.FrontSeconds;
            facts.InterfaceSeconds = _geometry.CouplantSeconds + _cell.DelaySeconds;
            facts.MetalSeconds = entry + _cell.DelaySeconds;
            facts.CouplantMultipleSeconds = 2 * _geometry.CouplantSeconds + _cell.DelaySeconds;
            if (_cell.ThicknessMetres > 0)
                facts.BackWallSeconds =
                    entry + _geometry.MetalSecondsPerMetre * _cell.ThicknessMetres + _cell.DelaySeconds;
            PassCouplant();
            double cover = _cell.Lamination is { } hit && hit.DepthMetres > 0 ? _cell.LaminationCover : 0;
            double reflected = _cell.Lamination?.ReflectedFraction ?? 0;
            AddTrain(
                new WallTrain(_cell.ThicknessMetres, 1 - cover, cover, 1 - reflected * reflected, null),
                ref facts
            );
            if (cover > 0 && reflected > 0)
                AddTrain(new WallTrain(_cell.Lamination!.Value.DepthMetres, cover, 0, 0, -reflected), ref facts);
            AddSpecials(ref facts);
        }

        /// <summary>Attenuation of one pass of the couplant and of one round trip in one metre of metal is tabulated; here for this cell.</summary>
        private readonly void PassCouplant()
        {
            for (int k = 0; k < _model._grid.Count; k++)
                _work.CouplantPass[k] =
                    _settings.CouplantAttenuationDecibelsPerMetre == 0
                        ? 1
                        : Math.Exp(-2 * _cell.CouplantMetres * _model._couplantAttenuation[k]);
        }

        /// <summary>The echoes of one reflector, with those of the front where the train is that of the wall.</summary>
        private void AddTrain(in WallTrain train, ref EchoFacts facts)
        {
            FrequencyGrid grid = _model._grid;
            double trip = _geometry.MetalSecondsPerMetre * train.DepthMetres;
            double latest = _endSeconds + _settings.Pulse.ReachBeforeSeconds;
            double first = _geometry.CouplantSeconds + _coats.FrontSeconds;
            int metalOrders = trip > 0 ? (int)Math.Clamp((latest - first) / trip, 0, LayerSeries.MostMetal) : 0;
            int couplantOrders =
                _settings.FaceReflection != 0 && _geometry.CouplantSeconds > 0
                    ? (int)Math.Clamp(latest / _geometry.CouplantSeconds, 1, LayerSeries.MostCouplant)
                    : 1;
            bool uneven = train.IsWall && metalOrders > 0 && _cell.PatchAlong > 0 && _settings.Diffraction;
            Use(
                uneven ? SplitDepths()
                : _coats.IsBare ? FrequencyGrid.LargestStride
                : grid.StrideFor(_coats.RingSeconds + TailSeconds)
            );
            Coefficients(train, couplantOrders, metalOrders);
            PassMetal(train.DepthMetres);
            if (uneven)
                SumFootprint(ref facts);
            for (int n = train.IsWall ? 0 : 1; n <= metalOrders; n++)
            {
                if (n > 0)
                {
                    for (int k = 0; k < _terms; k++)
                        _work.MetalPower[k] = n == 1 ? _work.MetalPass[k] : _work.MetalPower[k] * _work.MetalPass[k];
                }
                if (n > 0 && uneven)
                    AddUneven(train, n, couplantOrders, metalOrders, ref facts);
                else
                    AddOrder(train, n, train.DepthMetres, 0, 0, false, couplantOrders, metalOrders, ref facts);
            }
        }

        private readonly double TailSeconds =>
            TailShare * (_settings.Pulse.ReachBeforeSeconds + _settings.Pulse.ReachAfterSeconds);

        /// <summary>The echoes with n round trips in the metal and 1, 2, ... passes of the couplant.</summary>
        private readonly void AddOrder(
            in WallTrain train,
            int n,
            double depthMetres,
            double earlierSeconds,
            double laterSeconds,
            bool withRatio,
            int couplantOrders,
            int metalOrders,
            ref EchoFacts facts
        )
        {
            double inMetal = n * _geometry.MetalSecondsPerMetre * depthMetres;
            double tail = TailSeconds + _coats.RingSeconds;
            for (int p = 1; p <= couplantOrders; p++)
            {
                double time = p * _geometry.CouplantSeconds + inMetal;
                if (time - _settings.Pulse.ReachBeforeSeconds - earlierSeconds > _endSeconds)
                    break;
                double factor = _gain * train.Share(n) * OneEchoFactor(train, p, n);
                if (!Spectrum(train, p, n, metalOrders, couplantOrders, depthMetres, factor, withRatio))
                    continue;
                Note(train, p, n, ref facts);
                Emit(
                    time,
                    _settings.Pulse.ReachBeforeSeconds + earlierSeconds,
                    _settings.Pulse.ReachAfterSeconds + laterSeconds + tail
                );
            }
        }

        private readonly double OneEchoFactor(in WallTrain train, int p, int n) =>
            p > 1 || !train.IsWall ? 1
            : n == 0 ? _cell.InterfaceFactor
            : n == 1 ? _cell.FirstBackWallFactor
            : 1;

        /// <summary>Spectrum of one echo at its own time; false when it is too weak to be worth adding.</summary>
        private readonly bool Spectrum(
            in WallTrain train,
            int p,
            int n,
            int metalOrders,
            int couplantOrders,
            double depthMetres,
            double factor,
            bool withRatio
        )
        {
            FrequencyGrid grid = _model._grid;
            Span<Complex> spectrum = _work.Spectrum.AsSpan(0, _terms);
            int row = couplantOrders * (metalOrders + 1);
            int place = (p - 1) * (metalOrders + 1) + n;
            int centre = grid.Centre / _stride;
            Complex middle = _coats.IsBare ? _work.OneRow[place] : _work.Rows[centre * row + place];
            double weakest = SmallestAmplitude * _settings.InterfaceAmplitudeFraction;
            if (_coats.IsBare && middle.Magnitude * Math.Abs(factor) < weakest || factor == 0)
                return false;
            for (int k = 0; k < _terms; k++)
            {
                int m = k * _stride;
                Complex value = new(grid.SpectrumReal[m] * factor, grid.SpectrumImaginary[m] * factor);
                value *= _coats.IsBare ? middle : _work.Rows[k * row + place];
                double couplant = _work.CouplantPass[m];
                for (int i = 0; i < p; i++)
                    value *= couplant;
                spectrum[k] = n > 0 ? value * _work.MetalPower[k] : value;
            }
            if (_cell.OuterRoughnessMetres > 0)
                Roughen(spectrum, p, n);
            Diffract(
                _along,
                p * _geometry.CouplantAlongMetres + n * _geometry.MetalAlong(depthMetres) + _coats.SpreadMetres
            );
            Diffract(
                _around,
                p * _geometry.CouplantAroundMetres + n * _geometry.MetalAround(depthMetres) + _coats.SpreadMetres
            );
            if (withRatio)
            {
                for (int k = 0; k < _terms; k++)
                    spectrum[k] *= _work.Ratio[k];
            }
            return true;
        }

        /// <summary>Multiplies by the response of one side of the aperture.</summary>
        private readonly void Diffract(AxisTable? table, double distanceMetres)
        {
            if (table is null)
                return;
            double upper = table.Bracket(distanceMetres, out AxisField below, out AxisField above);
            for (int k = 0; k < _terms; k++)
            {
                int m = k * _stride;
                _work.Spectrum[k] *= new Complex(
                    below.Real[m] + upper * (above.Real[m] - below.Real[m]),
                    below.Imaginary[m] + upper * (above.Imaginary[m] - below.Imaginary[m])
                );
            }
        }

        private readonly void PassMetal(double depthMetres)
        {
            for (int k = 0; k < _terms; k++)
            {
                int m = k * _stride;
                double attenuation = _model._attenuation[m];
                double dispersion = _model._dispersion[m];
                double path = 2 * depthMetres;
                _work.MetalPass[k] =
                    attenuation == 0
                        ? Complex.One
                        : Complex.FromPolarCoordinates(Math.Exp(-attenuation * path), dispersion * path);
            }
        }

        /// <summary>Adds the spectrum in hand, centred on a time.</summary>
        private readonly void Emit(double timeSeconds, double beforeSeconds, double afterSeconds)
        {
            double first = Math.Max(0, Math.Ceiling((timeSeconds - beforeSeconds - _startSeconds) * _sampleRateHz));
            double last = Math.Min(
                _samples.Length - 1,
                Math.Floor((timeSeconds + afterSeconds - _startSeconds) * _sampleRateHz)
            );
            if (!(last >= first))
                return;
            FrequencyGrid grid = _model._grid;
            double shift = timeSeconds - (_startSeconds + first / _sampleRateHz);
            Complex phase = Complex.FromPolarCoordinates(_stride, Turn(grid.FirstHz * shift));
            Complex step = Complex.FromPolarCoordinates(1, Turn(_stride * grid.StepHz * shift));
            for (int k = 0; k < _terms; k++, phase *= step)
            {
                Complex value = _work.Spectrum[k] * phase;
                _work.Real[k] = (float)value.Real;
                _work.Imaginary[k] = (float)value.Imaginary;
            }
            int count = (int)(last - first) + 1;
            Span<float> window = _work.WindowOf(count);
            SynthesisKernel.Sum(
                _work.Real.AsSpan(0, _terms),
                _work.Imaginary.AsSpan(0, _terms),
                _rotations,
                _stride,
                window
            );
            Span<float> target = _samples.Slice((int)first, count);
            for (int i = 0; i < target.Length; i++)
                target[i] += window[i];
        }

        private static double Turn(double turns) => 2 * Math.PI * (turns - Math.Round(turns));
    }
}
