using EchoToThickness.Conditioning;
using EchoToThickness.Evidence;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.InterfaceSync;

/// <summary>
/// Finds the interface echo of one conditioned A-scan, and the other echoes that might be it. Exact definitions: docs/gating.md,
/// sections 3 to 7. One instance a thread; allocates nothing per A-scan.
/// </summary>
public sealed class InterfaceFinder
{
    /// <summary>Weaker candidates are kept down to this fraction of the level (-12 dB).</summary>
    public const double WeakestFractionOfLevel = 0.25;

    /// <summary>Weaker candidates are kept down to this multiple of the noise.</summary>
    public const double WeakestMultipleOfNoise = 6;

    private const double DefaultBandwidthFraction = 0.6;

    private readonly StackInfo _stack;
    private readonly InterfaceSettings _settings;
    private readonly AScanConditioner _conditioner;
    private readonly EchoPicker _picker;
    private readonly int _sign;
    private readonly EchoRun[] _kept = new EchoRun[InterfaceStrip.CandidatesPerCell];
    private readonly InterfaceEcho[] _found = new InterfaceEcho[InterfaceStrip.CandidatesPerCell];

    /// <summary>Prepares for the A-scans of one stack.</summary>
    /// <param name="stack">The stack.</param>
    /// <param name="settings">How the interface is found.</param>
    /// <param name="conditioner">Owner of the signal.</param>
    /// <exception cref="ProcedureException">A pick or polarity that the signal cannot give.</exception>
    public InterfaceFinder(StackInfo stack, InterfaceSettings settings, AScanConditioner conditioner)
    {
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(conditioner);
        PickChecks.Check(settings.Pick, settings.Polarity, conditioner, "interface");
        _stack = stack;
        _settings = settings;
        _conditioner = conditioner;
        _picker = new EchoPicker(conditioner);
        _sign = settings.Polarity switch
        {
            PolarityChoice.Positive => 1,
            PolarityChoice.Negative => -1,
            _ => 0,
        };
        if (settings.Pick == PickRule.Correlation)
            _picker.UsePulse(stack.Acquisition.BandwidthFraction ?? DefaultBandwidthFraction);
    }

    /// <summary>First sample of the last search.</summary>
    public int FirstIndex { get; private set; }

    /// <summary>One past the last sample of the last search.</summary>
    public int EndIndex { get; private set; }

    /// <summary>Level of the last search, fraction of full scale.</summary>
    public float Level { get; private set; }

    /// <summary>The interface of the A-scan by itself.</summary>
    /// <param name="beam">Beam of the A-scan in the conditioner.</param>
    /// <returns>The interface, or <see cref="InterfaceEcho.None"/>.</returns>
    public InterfaceEcho Find(int beam)
    {
        EchoWindow window = Open(beam);
        return Choose(window, out EchoRun run) ? Make(window, run, beam, true) : InterfaceEcho.None;
    }

    /// <summary>All echoes that might be the interface, best first: the A-scan's own choice, others over the level, weaker ones.</summary>
    /// <param name="beam">Beam of the A-scan in the conditioner.</param>
    /// <returns>Up to <see cref="InterfaceStrip.CandidatesPerCell"/> candidates; valid until the next call.</returns>
    public ReadOnlySpan<InterfaceEcho> FindCandidates(int beam)
    {
        EchoWindow window = Open(beam);
        int found = 0;
        int kept = 0;
        if (Choose(window, out EchoRun own))
        {
            InterfaceEcho echo = Make(window, own, beam, true);
            if (echo.HasTime)
                _found[found++] = echo;
            var runs = new EchoRuns(window, _picker.PeriodSamples, _conditioner.Path);
            while (runs.Next(out EchoRun run))
            {
                if (run.First != own.First)
                    Keep(run, ref kept, _found.Length - found);
            }
            for (int i = 0; i < kept; i++)
                Add(window, _kept[i], beam, ref found);
        }
        float weaker = (float)
            Math.Max(Level * WeakestFractionOfLevel, WeakestMultipleOfNoise * _conditioner.NoiseFraction);
        if (found < _found.Length && weaker < Level && weaker > 0)
        {
            var low = new EchoWindow(window.Signal, window.Sign, window.First, window.End, weaker);
            kept = 0;
            var runs = new EchoRuns(low, _picker.PeriodSamples, _conditioner.Path);
            while (runs.Next(out EchoRun run))
            {
                if (run.AmplitudeFraction < Level)
                    Keep(run, ref kept, _found.Length - found);
            }
            for (int i = 0; i < kept; i++)
                Add(low, _kept[i], beam, ref found);
        }
        return _found.AsSpan(0, found);
    }

    /// <summary>The interface after neighbours were looked at: the candidate they chose, or the time they supplied.</summary>
    /// <param name="beam">Beam of the A-scan in the conditioner.</param>
    /// <param name="chosenSeconds">Time chosen in the strip, before <c>interface.offset</c>; NaN for none.</param>
    /// <param name="tracked">Whether neighbours changed or supplied it.</param>
    /// <returns>The interface; without an echo of its own when no candidate lies within half a sample of the chosen time.</returns>
    public InterfaceEcho Take(int beam, float chosenSeconds, bool tracked)
    {
        ReadOnlySpan<InterfaceEcho> candidates = FindCandidates(beam);
        if (float.IsNaN(chosenSeconds))
            return InterfaceEcho.None;
        double nearest = 0.5 / _conditioner.SampleRateHz;
        int best = -1;
        for (int i = 0; i < candidates.Length; i++)
        {
            double distance = Math.Abs(candidates[i].Echo.Seconds - chosenSeconds);
            if (distance <= nearest)
            {
                nearest = distance;
                best = i;
            }
        }
        if (best < 0)
            return new InterfaceEcho { ReportedSeconds = chosenSeconds + _settings.OffsetSeconds, Tracked = true };
        InterfaceEcho echo = candidates[best];
        echo.Tracked = tracked;
        return echo;
    }

    private EchoWindow Open(int beam)
    {
        int samples = _stack.Shape.Samples;
        double start = _stack.TimeBase.StartOf(beam);
        double rate = _conditioner.SampleRateHz;
        (int first, int end) = WindowSamples.Within(
            _settings.SearchStartSeconds,
            _settings.SearchEndSeconds,
            start,
            rate,
            samples
        );
        var window = new EchoWindow(_conditioner.Signal(first - 1, end + 1), _sign, first, end, 0);
        double reference = _settings.Level.Reference switch
        {
            LevelReference.Strongest => window.Largest(first, end, _conditioner.Path),
            LevelReference.Noise => _conditioner.NoiseFraction,
            _ => 1,
        };
        FirstIndex = first;
        EndIndex = end;
        Level = (float)(_settings.Level.Ratio * reference);
        return new EchoWindow(window.Signal, _sign, first, end, Level);
    }

    private bool Choose(in EchoWindow window, out EchoRun chosen)
    {
        var runs = new EchoRuns(window, _picker.PeriodSamples, _conditioner.Path);
        if (!runs.Next(out chosen))
            return false;
        if (_settings.Take == EchoChoice.First)
            return true;
        while (runs.Next(out EchoRun run))
        {
            if (_settings.Take == EchoChoice.Last || run.AmplitudeFraction > chosen.AmplitudeFraction)
                chosen = run;
        }
        return true;
    }

    // Keeps the strongest runs in falling order of amplitude, the earlier of equals first.
    private void Keep(in EchoRun run, ref int kept, int room)
    {
        int place = kept;
        while (place > 0 && _kept[place - 1].AmplitudeFraction < run.AmplitudeFraction)
            place--;
        if (place >= room)
            return;
        for (int i = Math.Min(kept, room - 1); i > place; i--)
            _kept[i] = _kept[i - 1];
        _kept[place] = run;
        kept = Math.Min(kept + 1, room);
    }

    private void Add(in EchoWindow window, in EchoRun run, int beam, ref int found)
    {
        InterfaceEcho echo = Make(window, run, beam, false);
        if (echo.HasTime)
            _found[found++] = echo;
    }

    private InterfaceEcho Make(in EchoWindow window, in EchoRun run, int beam, bool own)
    {
        double position = _picker.Position(window, run, _settings.Pick, _settings.FlankFraction);
        if (double.IsNaN(position))
            return InterfaceEcho.None;
        double seconds = _stack.TimeBase.StartOf(beam) + position / _conditioner.SampleRateHz;
        // A level relative to the strongest is reached in mere noise as well: what noise can do by itself counts against.
        double multiple = run.AmplitudeFraction / _conditioner.NoiseFraction;
        double score =
            Math.Min(20 * Math.Log10(run.AmplitudeFraction / Level) / 6, 1)
            + (own ? 1 : 0)
            - 2 * Math.Max(WeakestMultipleOfNoise - multiple, 0);
        return new InterfaceEcho
        {
            Echo = new GatedEcho
            {
                Found = true,
                Run = run,
                Seconds = seconds,
                Polarity = _picker.Polarity(window, run),
                StartsOverLevel = run.First == window.First,
                Saturated = _conditioner.Saturation.Touch(run.First, run.Last),
            },
            ReportedSeconds = seconds + _settings.OffsetSeconds,
            Score = (float)score,
        };
    }
}
