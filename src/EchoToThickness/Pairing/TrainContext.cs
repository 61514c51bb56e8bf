using EchoToThickness.Echoes;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>
/// What is known of one A-scan before any train is tried: which candidates may be the interface, whether a coating lies on the metal,
/// which echoes are cut off, and where the couplant layer would echo.
/// </summary>
public sealed class TrainContext
{
    /// <summary>Other fronts are looked for within this many periods of the first.</summary>
    private const double FrontSpanPeriods = 8;

    /// <summary>Largest distance between the pulse's time zero and the feature timed, periods.</summary>
    internal const double PulseDelayPeriods = 2.2;

    private readonly bool[] _clipped = new bool[EchoRecord.MaximumCandidates];
    private double _startSamples;

    /// <summary>The prepared record.</summary>
    public EchoRecord Record { get; private set; } = null!;

    /// <summary>Settings of the procedure.</summary>
    public TrainSettings Settings { get; private set; } = null!;

    /// <summary>Candidates that may be the interface.</summary>
    public CandidateSet Interfaces { get; private set; }

    /// <summary>Strong echoes close together at the front, before a coating was recognised: 1 for a clean interface.</summary>
    public int FrontCount { get; private set; }

    /// <summary>Distance between coating front and metal, samples; 0 when no coating was recognised.</summary>
    public double CoatingSamples { get; private set; }

    /// <summary>Whether the front is one unsaturated or saturated echo, neither doubled by a coating nor by an air pocket.</summary>
    public bool HasSingleFront => FrontCount == 1;

    /// <summary>Looks at the front of a prepared record.</summary>
    /// <param name="record">Prepared, with at least one candidate.</param>
    /// <param name="settings">Settings.</param>
    /// <param name="startSamples">Time of sample 0 in samples from the pulse.</param>
    public void Begin(EchoRecord record, TrainSettings settings, double startSamples)
    {
        ArgumentNullException.ThrowIfNull(record);
        ArgumentNullException.ThrowIfNull(settings);
        Record = record;
        Settings = settings;
        _startSamples = startSamples;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        Interfaces = CandidateSet.Empty;
        CoatingSamples = 0;
        int first = -1;
        int second = -1;
        for (int i = 0; i < echoes.Length; i++)
        {
            if (echoes[i].Sample >= record.InterfaceEndSamples)
                break;
            if (echoes[i].AmplitudeFraction < record.InterfaceLevelFraction)
                continue;
            if (first < 0)
                first = i;
            if (echoes[i].PositionSamples - echoes[first].PositionSamples > FrontSpanPeriods * record.Scale.Period)
                break;
            if (i > first && LayerEcho.IsRepeatedWall(record, first, i))
                continue;
            Interfaces = Interfaces.With(i);
            if (i > first && (second < 0 || echoes[i].AmplitudeFraction > echoes[second].AmplitudeFraction))
                second = i;
        }
        FrontCount = Interfaces.Count;
        // Two strong echoes of one polarity at the front: a coating and, behind it, the metal.
        if (
            second >= 0
            && echoes[second].AmplitudeFraction > 0.5 * echoes[first].AmplitudeFraction
            && record.Sign(first, second) > 0.3
        )
        {
            CoatingSamples = echoes[second].PositionSamples - echoes[first].PositionSamples;
            Interfaces = CandidateSet.Empty.With(second);
        }
        for (int i = 0; i < echoes.Length; i++)
            _clipped[i] = Interfaces.Contains(i) && record.IsClipped(i);
    }

    /// <summary>Whether an interface candidate is cut off at the rails; false for none and for other candidates.</summary>
    /// <param name="candidate">Index of the candidate, or <see cref="TrainHypothesis.NoInterface"/>.</param>
    public bool IsClipped(int candidate) => candidate >= 0 && _clipped[candidate];

    /// <summary>
    /// Whether an echo lies where the couplant layer echoes for the m-th time (m = 2 to 5), or a wall behind such an echo:
    /// <c>t = m t_interface - (m - 1) delay + n spacing</c>, the delay between the pulse's zero and the timed feature being unknown.
    /// </summary>
    /// <param name="interfaceCandidate">The interface.</param>
    /// <param name="candidate">The echo.</param>
    /// <param name="spacingSamples">Spacing of the train behind the couplant echo; 0 for the couplant echo alone.</param>
    public bool IsAtCouplantEcho(int interfaceCandidate, int candidate, double spacingSamples = 0)
    {
        ReadOnlySpan<EchoCandidate> echoes = Record.Candidates;
        double front = _startSamples + echoes[interfaceCandidate].PositionSamples;
        double echo = _startSamples + echoes[candidate].PositionSamples;
        double period = Record.Scale.Period;
        double tolerance = Record.Scale.Tolerance;
        for (int m = 2; m <= 5; m++)
        {
            double rest = echo - m * front;
            if (spacingSamples > 0)
                rest -=
                    Math.Max(0, EchoScale.Round((rest + 0.5 * PulseDelayPeriods * period) / spacingSamples))
                    * spacingSamples;
            double low = -(m - 1) * PulseDelayPeriods * period - tolerance - m * CoatingSamples;
            if (rest > low && rest < tolerance + 2 * CoatingSamples)
                return true;
        }
        return false;
    }

    /// <summary>Whether an echo is reverberation of the coating after another position.</summary>
    /// <param name="fromSamples">Position the reverberation starts from, samples.</param>
    /// <param name="candidate">The echo.</param>
    /// <param name="largestOrder">Largest number of passes through the coating.</param>
    /// <param name="order">Number of passes.</param>
    public bool IsCoatingEcho(double fromSamples, int candidate, int largestOrder, out int order)
    {
        order = 0;
        if (CoatingSamples <= 0)
            return false;
        double distance = Record.Candidates[candidate].PositionSamples - fromSamples;
        order = EchoScale.Round(distance / CoatingSamples);
        return order >= 1
            && order <= largestOrder
            && Math.Abs(distance - order * CoatingSamples)
                < 0.5 * Record.Scale.Tolerance + 0.04 * order * CoatingSamples;
    }
}
