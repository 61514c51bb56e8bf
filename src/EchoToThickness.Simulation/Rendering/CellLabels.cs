using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>
/// Labels that follow from what the echo model put into an A-scan. Each is a plain statement about times and amplitudes, so that a label
/// says what is in the record, not what a rule makes of it. Limits are stated with each label; they are common practice or ours.
/// </summary>
internal sealed class CellLabels
{
    /// <summary>Length of a Gabor pulse between its -20 dB points, in units of 1 / (frequency x relative bandwidth): 4.29 sigma with
    /// sigma = sqrt(2 ln 2) / (pi B f).</summary>
    private const double PulseLength = 1.608;

    private readonly Scene _scene;
    private readonly SceneTimeBase _time;
    private readonly double _velocity;
    private readonly double _pulseSeconds;
    private readonly bool[] _deadAperture;
    private readonly double _tiltLimit;
    private readonly double _receiverOpensSeconds;

    public CellLabels(Scene scene, SceneTimeBase time, int beams)
    {
        _scene = scene;
        _time = time;
        _velocity = SceneTimeBase.VelocityMetresPerSecond(scene.Material);
        ArraySection array = scene.Array;
        _pulseSeconds = PulseLength / (array.FrequencyHz * array.BandwidthFraction);
        _deadAperture = new bool[beams];
        for (int beam = 0; beam < beams; beam++)
            _deadAperture[beam] = array.DeadElements.Any(e => e > beam && e <= beam + array.ApertureElements);
        // Askew by a quarter of a wavelength of path from one end of the aperture to the other.
        double wavelength = scene.Coupling.VelocityMetresPerSecond / array.FrequencyHz;
        _tiltLimit = wavelength / 8 / (array.ApertureElements * array.PitchMetres);
        InstrumentSection instrument = scene.Instrument;
        _receiverOpensSeconds = Math.Max(
            instrument.DeadTimeSeconds,
            instrument.InitialPulseFraction > 0
                ? instrument.InitialPulseSeconds
                    * Math.Max(
                        0,
                        Math.Log10(instrument.InitialPulseFraction / instrument.InterfaceAmplitudeFraction) + 1
                    )
                : 0
        );
    }

    /// <summary>Labels of a cell.</summary>
    /// <param name="beam">Beam.</param>
    /// <param name="cell">What the model was given.</param>
    /// <param name="facts">What the model made of it.</param>
    /// <param name="instrument">What the instrument did.</param>
    /// <param name="noise">Standard deviation of noise, fraction of full scale.</param>
    /// <param name="minimumMetres">Smallest wall under the aperture.</param>
    /// <param name="maximumMetres">Largest wall under the aperture.</param>
    public PlantedFailure Of(
        int beam,
        CellView cell,
        in EchoFacts facts,
        in InstrumentFacts instrument,
        double noise,
        double minimumMetres,
        double maximumMetres
    )
    {
        PlantedFailure labels = instrument.Labels;
        if (_deadAperture[beam])
            labels |= PlantedFailure.DeadElement;
        if (cell.Paint.ThicknessMetres > 0 || cell.Scale.ThicknessMetres > 0)
            labels |= PlantedFailure.CoatingFront;
        if (cell.Deposit.ThicknessMetres > 0)
            labels |= PlantedFailure.Deposit;
        if (cell.Inner == InnerMedium.Bonded)
            labels |= PlantedFailure.PolarityFlip;
        if (cell.Lamination is { } lamination && cell.LaminationCover > 0)
        {
            labels |= PlantedFailure.Lamination;
            if (Math.Abs(2 * lamination.DepthMetres - cell.ThicknessMetres) < 0.1 * cell.ThicknessMetres)
                labels |= PlantedFailure.HalvedWall;
        }
        if (Math.Max(Math.Abs(cell.TiltAlongRadians), Math.Abs(cell.TiltAroundRadians)) > _tiltLimit)
            labels |= PlantedFailure.Tilt;
        double spread = 2 * (maximumMetres - minimumMetres) / _velocity;
        if (spread > _pulseSeconds)
            labels |= PlantedFailure.Edge;
        if (2 * cell.ThicknessMetres / _velocity < _pulseSeconds)
            labels |= PlantedFailure.ThinWall;
        if (cell.RingDownFraction >= 0.01)
            labels |= PlantedFailure.RingDown;
        var limits = new LabelLimits(_time.StartSeconds, _time.EndSeconds, _pulseSeconds, _receiverOpensSeconds, noise);
        return labels | FailureLabels.For(facts, instrument.GainDecibels, limits);
    }
}
