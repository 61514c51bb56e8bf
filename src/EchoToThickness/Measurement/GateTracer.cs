using System.Globalization;
using EchoToThickness.Conditioning;
using EchoToThickness.Gating;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Pairing;
using EchoToThickness.Picks;
using EchoToThickness.Procedures;

namespace EchoToThickness.Measurement;

/// <summary>Writes the decisions of the gate engine down for people.</summary>
internal static class GateTracer
{
    public static void Record(
        MeasurementTrace trace,
        MeasurementPlan plan,
        AScanConditioner conditioner,
        int scan,
        int beam,
        in CellResult cell
    )
    {
        trace.Scan = scan;
        trace.Beam = beam;
        trace.SampleRateHz = conditioner.SampleRateHz;
        trace.StartSeconds = plan.Stack.TimeBase.StartOf(beam);
        trace.Raw = conditioner.Raw.ToArray();
        trace.Result = cell;
        if (cell.Status == CellStatus.NotScanned)
            trace.Say("conditioning", "No A-scan was stored for this cell.");
        else if (cell.Status == CellStatus.InvalidSamples)
            trace.Say("conditioning", "A sample is NaN or infinite; the A-scan is not used.");
    }

    public static void RecordEchoes(
        MeasurementTrace trace,
        MeasurementPlan plan,
        AScanConditioner conditioner,
        InterfaceFinder finder,
        GateEvaluator gates,
        GatePairing pairing,
        in InterfaceEcho found,
        ReadOnlySpan<GateOutcome> outcomes,
        in CellResult cell
    )
    {
        int samples = plan.Stack.Shape.Samples;
        trace.NoiseFraction = conditioner.NoiseFraction;
        Conditioning(trace, plan.Procedure.Conditioning, conditioner);
        Interface(trace, plan.Procedure.Interface, finder, found);
        for (int gate = 0; gate < gates.Count; gate++)
            Gate(trace, gates, gate, outcomes[gate]);
        trace.Signal = conditioner.Signal(0, samples).ToArray();
        trace.Envelope = conditioner.Envelope(0, samples).ToArray();
        if (found.Echo.Found)
            trace.Echoes.Add(Echo(trace, found.Echo, found.Echo, "interface", pairing, pairing.IsPaired(-1)));
        for (int gate = 0; gate < gates.Count; gate++)
        {
            GateOutcome outcome = outcomes[gate];
            string name = gates.NameOf(gate);
            bool paired = pairing.IsPaired(gate) && cell.PairedOrders != CellResult.NoPair;
            string role = outcome.IsRingDown
                ? $"ring-down at the start of gate '{name}'"
                : $"back-wall echo {pairing.OrderOf(gate)} (gate '{name}')";
            if (outcome.Echo.Found)
                trace.Echoes.Add(Echo(trace, outcome.Echo, found.Echo, role, pairing, paired));
            if (outcome.Rival.Found)
                trace.Echoes.Add(
                    Echo(trace, outcome.Rival, found.Echo, $"other echo in gate '{name}'", pairing, false)
                );
        }
        trace.Echoes.Sort((a, b) => a.Seconds.CompareTo(b.Seconds));
        Pairing(trace, plan, pairing, cell);
    }

    private static void Conditioning(
        MeasurementTrace trace,
        ConditioningSettings settings,
        AScanConditioner conditioner
    )
    {
        SaturationRuns saturation = conditioner.Saturation;
        trace.Say(
            "conditioning",
            saturation.Count == 0
                ? "No stretch of samples is cut off at a rail."
                : Text($"{saturation.SampleCount} samples in {saturation.Count} stretches are cut off at a rail.")
        );
        if (conditioner.HaloBeams > 0 || conditioner.HaloScans > 0)
            trace.Say(
                "conditioning",
                Text(
                    $"Averaged over up to {2 * conditioner.HaloBeams + 1} beams x {2 * conditioner.HaloScans + 1} scan positions."
                )
            );
        if (settings.BandLowHz is { } low && settings.BandHighHz is { } high)
            trace.Say(
                "conditioning",
                Text($"Band-pass {low / 1e6:0.###} to {high / 1e6:0.###} MHz, {settings.Taps} taps, delay compensated.")
            );
        trace.Say("conditioning", Text($"Noise {Percent(trace.NoiseFraction)} of full scale (robust)."));
    }

    private static void Interface(
        MeasurementTrace trace,
        InterfaceSettings settings,
        InterfaceFinder finder,
        in InterfaceEcho found
    )
    {
        trace.Interface = new InterfaceTrace
        {
            Seconds = found.ReportedSeconds,
            AmplitudeFraction = found.Echo.AmplitudeFraction,
            LevelFraction = finder.Level,
            SearchStartSeconds = trace.StartSeconds + finder.FirstIndex / trace.SampleRateHz,
            SearchEndSeconds = trace.StartSeconds + finder.EndIndex / trace.SampleRateHz,
            Tracked = found.Tracked,
        };
        if (!found.HasTime)
        {
            trace.Say("interface", Text($"No echo reaches the level {Percent(finder.Level)} in the search window."));
            return;
        }
        if (!found.Echo.Found)
        {
            trace.Say(
                "interface",
                Text($"No echo of its own; neighbours supplied {Micro(found.ReportedSeconds)}. No wall starts from it.")
            );
            return;
        }
        trace.Say(
            "interface",
            Text(
                $"{Word(settings.Take)} echo over {Percent(finder.Level)}: {Word(settings.Pick)} at {Micro(found.Echo.Seconds)}, amplitude {Percent(found.Echo.AmplitudeFraction)}; reported {Micro(found.ReportedSeconds)}."
            )
        );
        if (found.Tracked)
            trace.Say("interface", "Neighbours chose this echo before the A-scan's own first choice.");
        if (found.Echo.StartsOverLevel)
            trace.Say("interface", "The signal is over the level at the first sample of the search already.");
        if (found.Echo.Saturated)
            trace.Say("interface", "The echo is cut off at the rails.");
    }

    private static void Gate(MeasurementTrace trace, GateEvaluator gates, int gate, in GateOutcome outcome)
    {
        GateSettings settings = gates.SettingsOf(gate);
        string stage = $"gate '{settings.Name}'";
        if (!outcome.Placed)
        {
            trace.Say(stage, $"No place: '{settings.Follows}' gave no echo to follow.");
            return;
        }
        trace.Gates.Add(
            new GateTrace(
                settings.Name,
                outcome.StartSeconds,
                outcome.EndSeconds,
                outcome.Level,
                outcome.Echo.Found ? outcome.Echo.Seconds : double.NaN,
                outcome.Echo.AmplitudeFraction
            )
        );
        string window = Text(
            $"{Micro(outcome.StartSeconds)} to {Micro(outcome.EndSeconds)}, level {Percent(outcome.Level)}"
        );
        trace.Say(
            stage,
            outcome.Echo.Found
                ? Text(
                    $"{window}: {Word(settings.Take)} echo, {Word(settings.Pick)} at {Micro(outcome.Echo.Seconds)}, amplitude {Percent(outcome.Echo.AmplitudeFraction)}, margin {outcome.Margin:0.00}."
                )
                : $"{window}: no echo."
        );
        if (outcome.CutByRecord)
            trace.Say(stage, "The record ends before the gate does.");
        if (outcome.IsRingDown)
            trace.Say(
                stage,
                "The signal is over the level at the start of the gate and the pick is the start itself: ring-down, not an echo."
            );
        else if (outcome.Echo.StartsOverLevel)
            trace.Say(stage, "The signal is over the level at the first sample of the gate already.");
    }

    private static void Pairing(MeasurementTrace trace, MeasurementPlan plan, GatePairing pairing, in CellResult cell)
    {
        if (!double.IsNaN(cell.ThicknessInterfaceWallMetres))
            trace.Say("pairing", Text($"Interface to wall: {Milli(cell.ThicknessInterfaceWallMetres)}."));
        if (!double.IsNaN(cell.ThicknessWallWallMetres))
            trace.Say("pairing", Text($"Wall to wall: {Milli(cell.ThicknessWallWallMetres)}."));
        if (!double.IsNaN(cell.SignalToNoiseDecibels))
            trace.Say(
                "pairing",
                Text(
                    $"Weakest echo {cell.SignalToNoiseDecibels:0.0} dB over the noise; {plan.Procedure.Pairing.MinimumSnrDecibels:0.0} dB are asked for."
                )
            );
        if (cell.Notes != CellNotes.None)
            trace.Say("pairing", $"Notes: {cell.Notes}.");
        string rule = Word(plan.Procedure.Pairing.Rule);
        string name = Text($"{rule}, echoes {cell.PairedOrders & 15} and {cell.PairedOrders >> 4}");
        if (cell.Status == CellStatus.Measured)
        {
            trace.Hypotheses.Add(new HypothesisTrace(name, cell.ThicknessMetres, 1, "chosen by the rule"));
            trace.Say("pairing", Text($"{name}: wall {Milli(cell.ThicknessMetres)}."));
            trace.Say(
                "uncertainty",
                Text(
                    $"Standard uncertainty {Milli(cell.UncertaintyMetres)}: noise {Milli(cell.UncertaintyNoiseMetres)}, calibration {Milli(cell.UncertaintyCalibrationMetres)}; given that the echoes are the right ones."
                )
            );
        }
        else
        {
            trace.Say("pairing", $"Not measured: {cell.Status}.");
        }
        if (!double.IsNaN(cell.RunnerUpThicknessMetres))
            trace.Hypotheses.Add(
                new HypothesisTrace("runner-up", cell.RunnerUpThicknessMetres, 1 - cell.Margin, "next echo or spacing")
            );
    }

    private static EchoTrace Echo(
        MeasurementTrace trace,
        in GatedEcho echo,
        in GatedEcho interfaceEcho,
        string role,
        GatePairing pairing,
        bool paired
    )
    {
        int peak = echo.Run.Peak;
        float[] envelope = trace.Envelope;
        // The envelope's own maximum lies within the echo or next to its highest sample.
        int top = peak;
        for (int i = echo.Run.First; i <= echo.Run.Last; i++)
        {
            if (envelope[i] > envelope[top])
                top = i;
        }
        float half = 0.5f * envelope[top];
        int left = top;
        while (left > 0 && envelope[left] > half)
            left--;
        int right = top;
        while (right < envelope.Length - 1 && envelope[right] > half)
            right++;
        return new EchoTrace(
            echo.Seconds,
            envelope[top],
            echo.Polarity * interfaceEcho.Polarity,
            (right - left) / trace.SampleRateHz,
            pairing.SnrDecibels(echo),
            role,
            paired
        );
    }

    private static string Word<T>(T value)
        where T : struct, Enum =>
        KeyDescription.ChoicesOf(typeof(T)).First(choice => choice.Value.Equals(value)).Choice.Word;

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static string Percent(double fraction) => Text($"{100 * fraction:0.0##} %");

    private static string Micro(double seconds) => Text($"{1e6 * seconds:0.0000} us");

    private static string Milli(double metres) => Text($"{1e3 * metres:0.000} mm");
}
