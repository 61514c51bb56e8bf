using EchoToThickness.Conditioning;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Gating;

/// <summary>
/// Evaluates the gates of a procedure on one conditioned A-scan. Exact definitions: docs/gating.md, sections 3 to 6. One instance a
/// thread; allocates nothing per A-scan.
/// </summary>
public sealed class GateEvaluator
{
    private const int FollowsPulse = -2;
    private const int FollowsInterface = -1;

    private readonly StackInfo _stack;
    private readonly AScanConditioner _conditioner;
    private readonly EchoPicker _picker;
    private readonly GateSettings[] _gates;
    private readonly int[] _follows;
    private readonly double[] _startSeconds;
    private readonly double[] _widthSeconds;
    private readonly double _velocity;
    private readonly float[] _levels;
    private readonly GateOutcome[] _outcomes;
    private bool _hasReference;

    /// <summary>Prepares the gates for the A-scans of one stack.</summary>
    /// <param name="stack">The stack.</param>
    /// <param name="gates">The gates in order; consistent (<see cref="ProcedureCheck"/>).</param>
    /// <param name="velocityMetresPerSecond">Velocity in the metal, for depths.</param>
    /// <param name="conditioner">Owner of the signal.</param>
    /// <exception cref="ProcedureException">A pick or polarity that the signal cannot give.</exception>
    public GateEvaluator(
        StackInfo stack,
        IReadOnlyList<GateSettings> gates,
        double velocityMetresPerSecond,
        AScanConditioner conditioner
    )
    {
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(gates);
        ArgumentNullException.ThrowIfNull(conditioner);
        _stack = stack;
        _gates = [.. gates];
        _velocity = velocityMetresPerSecond;
        _conditioner = conditioner;
        _picker = new EchoPicker(conditioner);
        _follows = new int[_gates.Length];
        _startSeconds = new double[_gates.Length];
        _widthSeconds = new double[_gates.Length];
        for (int gate = 0; gate < _gates.Length; gate++)
        {
            _follows[gate] = Resolve(_gates, gate);
            _startSeconds[gate] = _gates[gate].Start.ToSeconds(velocityMetresPerSecond);
            _widthSeconds[gate] = _gates[gate].Width.ToSeconds(velocityMetresPerSecond);
            PickChecks.Check(_gates[gate].Pick, _gates[gate].Polarity, conditioner, $"gate[{gate + 1}]");
        }
        _levels = new float[_gates.Any(gate => gate.LevelByDepth.Count > 0) ? stack.Shape.Samples : 0];
        _outcomes = new GateOutcome[_gates.Length];
    }

    /// <summary>Number of gates.</summary>
    public int Count => _gates.Length;

    /// <summary>Whether a gate rides, directly or through other gates, on the interface.</summary>
    /// <param name="gate">Gate, in the order of the procedure; the interface itself (negative) does not ride on itself.</param>
    public bool NeedsInterface(int gate)
    {
        if (gate < 0)
            return false;
        while (_follows[gate] >= 0)
            gate = _follows[gate];
        return _follows[gate] == FollowsInterface;
    }

    /// <summary>The gate that a gate follows; negative when it follows the interface or the pulse.</summary>
    /// <param name="gate">Gate, in the order of the procedure.</param>
    public int FollowedBy(int gate) => _follows[gate];

    /// <summary>The name of a gate.</summary>
    /// <param name="gate">Gate, in the order of the procedure.</param>
    public string NameOf(int gate) => _gates[gate].Name;

    /// <summary>The settings of a gate.</summary>
    /// <param name="gate">Gate, in the order of the procedure.</param>
    public GateSettings SettingsOf(int gate) => _gates[gate];

    /// <summary>Evaluates all gates in order.</summary>
    /// <param name="beam">Beam of the A-scan in the conditioner.</param>
    /// <param name="interfaceEcho">The interface; may be none.</param>
    /// <returns>One outcome a gate; valid until the next call.</returns>
    public ReadOnlySpan<GateOutcome> Evaluate(int beam, in InterfaceEcho interfaceEcho)
    {
        _hasReference = interfaceEcho.Echo.Found;
        bool referenceSet = false;
        for (int gate = 0; gate < _gates.Length; gate++)
        {
            if (_gates[gate].Pick == PickRule.Correlation && _hasReference && !referenceSet)
            {
                _picker.UseEcho(interfaceEcho.Echo.Run.Peak);
                referenceSet = true;
            }
            _outcomes[gate] = Evaluate(gate, beam, interfaceEcho);
        }
        return _outcomes;
    }

    private GateOutcome Evaluate(int gate, int beam, in InterfaceEcho interfaceEcho)
    {
        GateSettings settings = _gates[gate];
        var outcome = new GateOutcome { Margin = double.NaN };
        double followedSeconds = 0;
        GatedEcho followed = default;
        if (_follows[gate] == FollowsInterface)
        {
            if (!interfaceEcho.HasTime)
                return outcome;
            followedSeconds = interfaceEcho.ReportedSeconds;
            followed = interfaceEcho.Echo;
        }
        else if (_follows[gate] >= 0)
        {
            followed = _outcomes[_follows[gate]].Echo;
            if (!followed.Found)
                return outcome;
            followedSeconds = followed.Seconds;
        }
        // A level relative to an echo that neighbours supplied has nothing to be relative to.
        if (settings.Level.Reference == LevelReference.Followed && !followed.Found)
            return outcome;
        outcome.Placed = true;
        outcome.StartSeconds = followedSeconds + _startSeconds[gate];
        outcome.EndSeconds = outcome.StartSeconds + _widthSeconds[gate];
        double recordStart = _stack.TimeBase.StartOf(beam);
        double rate = _conditioner.SampleRateHz;
        int samples = _stack.Shape.Samples;
        int first = WindowSamples.IndexAt(outcome.StartSeconds, recordStart, rate);
        int end = WindowSamples.IndexAt(outcome.EndSeconds, recordStart, rate);
        outcome.CutByRecord = end > samples;
        first = Math.Clamp(first, 0, samples);
        end = Math.Clamp(end, first, samples);
        outcome.FirstIndex = first;
        outcome.EndIndex = end;
        int sign = SignOf(settings.Polarity, followed.Polarity);
        ReadOnlySpan<float> signal = _conditioner.Signal(first - 1, end + 1);
        var open = new EchoWindow(signal, sign, first, end, 0);
        double reference = settings.Level.Reference switch
        {
            LevelReference.Strongest => open.Largest(first, end, _conditioner.Path),
            LevelReference.Noise => _conditioner.NoiseFraction,
            LevelReference.Followed => followed.Run.AmplitudeFraction,
            _ => 1,
        };
        double level = settings.Level.Ratio * reference;
        ReadOnlySpan<float> levels = default;
        if (settings.LevelByDepth.Count > 0)
        {
            Span<float> table = _levels.AsSpan(0, end - first);
            for (int i = first; i < end; i++)
            {
                double depth = 0.5 * _velocity * (recordStart + i / rate - followedSeconds);
                table[i - first] = (float)(level * Math.Pow(10, ChangeAt(settings.LevelByDepth, depth) / 20));
            }
            levels = table;
        }
        outcome.Level = levels.IsEmpty ? (float)level : levels[0];
        var window = new EchoWindow(signal, sign, first, end, (float)level, levels);
        Take(settings, window, beam, interfaceEcho, ref outcome);
        return outcome;
    }

    private void Take(
        GateSettings settings,
        in EchoWindow window,
        int beam,
        in InterfaceEcho interfaceEcho,
        ref GateOutcome outcome
    )
    {
        var runs = new EchoRuns(window, _picker.PeriodSamples, _conditioner.Path);
        if (!runs.Next(out EchoRun chosen))
            return;
        EchoRun rival = default;
        while (runs.Next(out EchoRun run))
        {
            bool better =
                settings.Take == EchoChoice.Last
                || (settings.Take == EchoChoice.Strongest && run.AmplitudeFraction > chosen.AmplitudeFraction);
            EchoRun other = better ? chosen : run;
            if (better)
                chosen = run;
            if (other.AmplitudeFraction > rival.AmplitudeFraction)
                rival = other;
        }
        outcome.Echo = Make(settings, window, chosen, beam, interfaceEcho);
        if (!outcome.Echo.Found)
            return;
        if (rival.AmplitudeFraction > 0)
            outcome.Rival = Make(settings, window, rival, beam, interfaceEcho);
        double nearest = settings.Take switch
        {
            EchoChoice.Strongest => rival.AmplitudeFraction / (double)chosen.AmplitudeFraction,
            EchoChoice.First => LargestToLevel(window, window.First, chosen.First),
            _ => LargestToLevel(window, chosen.Last + 1, window.End),
        };
        outcome.Margin = Math.Clamp(1 - nearest, 0, 1);
        double firstSeconds = _stack.TimeBase.StartOf(beam) + window.First / _conditioner.SampleRateHz;
        outcome.IsRingDown =
            outcome.Echo.StartsOverLevel
            && outcome.Echo.Seconds - firstSeconds <= (1 + 1e-9) / _conditioner.SampleRateHz;
    }

    private GatedEcho Make(
        GateSettings settings,
        in EchoWindow window,
        in EchoRun run,
        int beam,
        in InterfaceEcho interfaceEcho
    )
    {
        bool correlates = settings.Pick == PickRule.Correlation;
        if (correlates && !_hasReference)
            return default;
        double position = _picker.Position(window, run, settings.Pick, settings.FlankFraction);
        if (double.IsNaN(position))
            return default;
        double rate = _conditioner.SampleRateHz;
        return new GatedEcho
        {
            Found = true,
            Run = run,
            Seconds = correlates
                ? interfaceEcho.ReportedSeconds + (position - _picker.ReferenceIndex) / rate
                : _stack.TimeBase.StartOf(beam) + position / rate,
            Polarity = _picker.Polarity(window, run),
            StartsOverLevel = run.First == window.First,
            Saturated = _conditioner.Saturation.Touch(run.First, run.Last),
        };
    }

    private double LargestToLevel(in EchoWindow window, int first, int end)
    {
        if (window.Levels.IsEmpty)
            return window.Level > 0 ? window.Largest(first, end, _conditioner.Path) / (double)window.Level : 0;
        double largest = 0;
        for (int i = first; i < end; i++)
        {
            // A level of 0 (no noise at all) leaves only zeros under it.
            double level = window.LevelAt(i);
            if (level > 0)
                largest = Math.Max(largest, window.AmplitudeAt(i) / level);
        }
        return largest;
    }

    private static int SignOf(PolarityChoice polarity, int followed) =>
        polarity switch
        {
            PolarityChoice.Positive => 1,
            PolarityChoice.Negative => -1,
            PolarityChoice.Opposite => -followed,
            PolarityChoice.Same => followed,
            _ => 0,
        };

    // Decibels at a depth: linear between points, constant beyond the ends.
    private static double ChangeAt(IReadOnlyList<LevelPoint> points, double depthMetres)
    {
        if (depthMetres <= points[0].DepthMetres)
            return points[0].ChangeDecibels;
        for (int i = 1; i < points.Count; i++)
        {
            LevelPoint from = points[i - 1];
            LevelPoint to = points[i];
            if (depthMetres <= to.DepthMetres)
                return from.ChangeDecibels
                    + (to.ChangeDecibels - from.ChangeDecibels)
                        * (depthMetres - from.DepthMetres)
                        / (to.DepthMetres - from.DepthMetres);
        }
        return points[^1].ChangeDecibels;
    }

    private static int Resolve(GateSettings[] gates, int gate) =>
        gates[gate].Follows switch
        {
            GateSettings.Interface => FollowsInterface,
            GateSettings.Pulse => FollowsPulse,
            string name => Array.FindIndex(gates, 0, gate, earlier => earlier.Name == name),
        };
}
