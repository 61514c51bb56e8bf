using System.Globalization;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>The rules behind <see cref="ProcedureCheck.Against"/>.</summary>
internal sealed class StackRules(Procedure procedure, StackInfo stack)
{
    public List<ProcedureFinding> Findings { get; } = [];

    public List<string> Warnings { get; } = [];

    private double RecordStart =>
        stack.TimeBase.BeamStartSeconds is { Count: > 0 } starts ? starts.Min() : stack.TimeBase.StartSeconds;

    private double RecordEnd =>
        (stack.TimeBase.BeamStartSeconds is { Count: > 0 } starts ? starts.Max() : stack.TimeBase.StartSeconds)
        + (stack.Shape.Samples - 1) * stack.TimeBase.IntervalSeconds;

    public void Check()
    {
        Filter();
        Form();
        Neighbours();
        Windows();
        Velocity();
        Corrections();
        EstimationRules.Against(procedure, stack, Fault);
    }

    private void Filter()
    {
        ConditioningSettings c = procedure.Conditioning;
        double nyquist = stack.TimeBase.SampleRateHz / 2;
        foreach (
            (string key, double? edge) in (ReadOnlySpan<(string, double?)>)
                [("band_low", c.BandLowHz), ("band_high", c.BandHighHz)]
        )
            if (edge >= nyquist)
                Fault(
                    "conditioning." + key,
                    $"{key} = {Text(edge.Value, Dimension.Frequency)} is not below half the sample rate of {stack.Name} ({Text(nyquist, Dimension.Frequency)}).",
                    "lower the band edge, or correct the sample rate of the stack."
                );
        if (c.BandLowHz is not null && c.Taps > stack.Shape.Samples)
            Fault(
                "conditioning.taps",
                $"A filter of {Text(c.Taps)} taps is longer than the A-scans of {stack.Name} ({Text(stack.Shape.Samples)} samples).",
                "use fewer taps."
            );
        if (
            c.BandLowHz is { } low
            && c.BandHighHz is { } high
            && stack.Acquisition.FrequencyHz is { } centre
            && (centre < low || centre > high)
        )
            Warnings.Add(
                $"conditioning: the band {Text(low, Dimension.Frequency)} to {Text(high, Dimension.Frequency)} does not hold the stack's own frequency {Text(centre, Dimension.Frequency)}."
            );
        if (c.SaturationSamples > 0 && double.IsNaN(stack.Amplitude.MaximumCounts))
            Warnings.Add(
                "conditioning.saturation_samples: the rails of the digitiser are unknown, saturation is not seen."
            );
    }

    private void Form()
    {
        if (stack.Acquisition.Form != SignalForm.Rectified)
            return;
        ConditioningSettings c = procedure.Conditioning;
        if (c.BandLowHz is not null)
            Fault(
                "conditioning.band_low",
                $"{stack.Name} holds rectified A-scans; a rectified signal has no carrier to band-pass.",
                "leave out band_low and band_high, or use the rf signal."
            );
        if (c.Signal == SignalChoice.Envelope)
            Fault(
                "conditioning.signal",
                $"{stack.Name} holds rectified A-scans; their analytic signal is not an envelope.",
                "write signal = \"rectified\", or use the rf signal."
            );
        if (c.Signal == SignalChoice.RadioFrequency)
            Warnings.Add($"conditioning.signal: {stack.Name} holds rectified A-scans; they are used as they are.");
        NeedsSign("interface", procedure.Interface.Pick, procedure.Interface.Polarity);
        for (int i = 0; i < procedure.Gates.Count; i++)
            NeedsSign(GatePath(i), procedure.Gates[i].Pick, procedure.Gates[i].Polarity);
    }

    private void NeedsSign(string path, PickRule pick, PolarityChoice polarity)
    {
        if (pick is PickRule.ZeroCrossing or PickRule.Correlation or PickRule.EnvelopePeak)
            Fault(
                path + ".pick",
                $"The pick needs the rf signal; {stack.Name} holds rectified A-scans.",
                "write pick = \"flank\" or \"peak\", or use the rf signal."
            );
        if (polarity != PolarityChoice.Either)
            Fault(
                path + ".polarity",
                $"The polarity needs the sign of the signal; {stack.Name} holds rectified A-scans.",
                "write polarity = \"either\", or use the rf signal."
            );
    }

    private void Neighbours()
    {
        ConditioningSettings c = procedure.Conditioning;
        if (c.AverageBeams > 1 && !stack.Neighbours.HasFlag(NeighbourAxes.Beam))
            Unrelated("conditioning.average_beams", "beams");
        if (c.AverageScans > 1 && !stack.Neighbours.HasFlag(NeighbourAxes.Scan))
            Unrelated("conditioning.average_scans", "scan positions");
        if (procedure.Interface.Track != TrackRule.None && stack.Neighbours == NeighbourAxes.None)
            Warnings.Add($"interface.track: the cells of {stack.Name} are declared unrelated; nothing is tracked.");
    }

    private void Unrelated(string key, string what) =>
        Fault(
            key,
            $"The {what} of {stack.Name} are declared unrelated; averaging would mix different places.",
            "write 1, or correct the neighbours of the stack."
        );

    private void Windows()
    {
        (double start, double end) = (RecordStart, RecordEnd);
        InterfaceSettings search = procedure.Interface;
        if (search.SearchStartSeconds >= end)
            Outside("interface.search_start", "The interface search starts", search.SearchStartSeconds.Value, "after");
        if (search.SearchEndSeconds <= start)
            Outside("interface.search_end", "The interface search ends", search.SearchEndSeconds.Value, "before");
        if (search.SearchEndSeconds > end)
            Warnings.Add($"interface.search_end: the record ends at {Time(end)}; the search is cut there.");
        double earliestInterface = Math.Max(search.SearchStartSeconds ?? start, start);
        double? velocity = procedure.Velocity.ValueMetresPerSecond ?? stack.Acquisition.VelocityMetresPerSecond;
        for (int i = 0; i < procedure.Gates.Count; i++)
        {
            GateSettings gate = procedure.Gates[i];
            bool onPulse = gate.Follows == GateSettings.Pulse;
            if (!onPulse && gate.Follows != GateSettings.Interface)
                continue;
            if ((gate.Start.IsDepth || gate.Width.IsDepth) && velocity is null)
                continue;
            double from = (onPulse ? 0 : earliestInterface) + gate.Start.ToSeconds(velocity ?? 1);
            double to = from + gate.Width.ToSeconds(velocity ?? 1);
            if (from >= end)
                Outside(
                    GatePath(i) + ".start",
                    $"The gate '{gate.Name}' starts" + (onPulse ? "" : " at the earliest"),
                    from,
                    "after"
                );
            else if (onPulse && to <= start)
                Outside(GatePath(i) + ".width", $"The gate '{gate.Name}' ends", to, "before");
            else if (to > end)
                Warnings.Add($"{GatePath(i)}: the record ends at {Time(end)}; the gate is cut there.");
        }
        if (velocity is { } v && earliestInterface + 2 * procedure.Wall.MaximumMetres / v > end)
            Warnings.Add(
                $"wall.maximum: the record ends at {Time(end)}, before the first echo of a wall of {Text(procedure.Wall.MaximumMetres, Dimension.Length)}."
            );
    }

    private void Outside(string key, string what, double at, string side) =>
        Fault(
            key,
            $"{what} at {Time(at)}, {side} the record of {stack.Name} ({Time(RecordStart)} to {Time(RecordEnd)}).",
            "move the window into the record, or correct the start time of the stack."
        );

    private void Velocity()
    {
        VelocitySettings v = procedure.Velocity;
        if (
            v.ValueMetresPerSecond is null
            && v.Calibration.Count == 0
            && v.Material.Length == 0
            && stack.Acquisition.VelocityMetresPerSecond is null
        )
            Fault(
                "velocity",
                $"Neither the procedure nor {stack.Name} gives a velocity.",
                "write velocity.value, calibration points or velocity.material, or the velocity attribute of the stack."
            );
        double? nominal = procedure.Wall.NominalMetres is null ? stack.Component.NominalWallMetres : null;
        if (nominal is { } wall && (wall < procedure.Wall.MinimumMetres || wall > procedure.Wall.MaximumMetres))
            Warnings.Add(
                $"wall: the nominal wall of the stack, {Text(wall, Dimension.Length)}, lies outside the range that is looked for."
            );
    }

    private void Corrections()
    {
        AcquisitionFacts facts = stack.Acquisition;
        if (procedure.Correction.Diffraction)
        {
            if ((procedure.Correction.ApertureMetres ?? facts.ApertureMetres) is null)
                Warnings.Add(
                    $"correction.diffraction: {stack.Name} does not give the active aperture; plane waves are assumed and nothing is corrected."
                );
            Needs("correction.diffraction", procedure.Train.FrequencyHz ?? facts.FrequencyHz, "the frequency");
        }
        if (procedure.Correction.Curvature)
        {
            Needs(
                "correction.curvature",
                procedure.Correction.ApertureMetres ?? facts.ApertureMetres,
                "the active aperture"
            );
            Needs("correction.curvature", stack.Component.OutsideDiameterMetres, "the outside diameter");
        }
    }

    private void Needs(string key, double? fact, string what)
    {
        if (fact is null)
            Fault(
                key,
                $"The correction needs {what}, which {stack.Name} does not give.",
                $"add {what} to the stack or its layout map, or switch the correction off."
            );
    }

    private void Fault(string key, string what, string remedy) => Findings.Add(new ProcedureFinding(key, what, remedy));

    private static string GatePath(int index) => string.Create(CultureInfo.InvariantCulture, $"gate[{index + 1}]");

    private static string Time(double value) => UnitText.Format(Math.Round(value, 12), Dimension.Time);

    private static string Text(double value, Dimension dimension) => UnitText.Format(value, dimension);

    private static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
}
