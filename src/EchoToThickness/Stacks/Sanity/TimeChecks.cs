using static System.FormattableString;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Checks of the time base against what the samples and the stated facts say.</summary>
internal static class TimeChecks
{
    /// <summary>Longitudinal velocity taken where the stack states none: steel, metres per second.</summary>
    private const double SteelMetresPerSecond = 5920;

    public static IEnumerable<SanityFinding> Run(
        StackInfo info,
        List<AScanFeatures> live,
        SampleSummary summary,
        SpectrumFacts? spectrum,
        double spacingSeconds
    )
    {
        bool rectified = summary.LooksRectified || info.Acquisition.Form == SignalForm.Rectified;
        SanityFinding? unit = spectrum is null ? null : RateUnit(info, spectrum, rectified);
        if (unit is not null)
            yield return unit;
        SanityFinding? start = StartUnit(info);
        if (start is not null)
            yield return start;
        if (unit is not null || spectrum is null || rectified)
            yield break;
        if (spectrum.SamplesPerPeriod < 4)
        {
            yield return new(
                SanityCheck.CoarseSampling,
                SanitySeverity.Warning,
                Invariant(
                    $"{spectrum.SamplesPerPeriod:0.0} samples a period at the dominant {spectrum.DominantHz / 1e6:0.00} MHz; times between samples need at least 4."
                ),
                "sample at four times the centre frequency or faster; or state the real sample rate if this one is wrong"
            );
        }
        SanityFinding? half = HalfPath(info, spectrum, spacingSeconds);
        if (half is not null)
            yield return half;
        else if (start is null && ShortRecord(info, live, spectrum) is { } shortRecord)
            yield return shortRecord;
    }

    /// <summary>Facts that no acquisition can have; they need no samples.</summary>
    public static IEnumerable<SanityFinding> Facts(StackInfo info)
    {
        (string Name, double? Value, double Low, double High, string Unit)[] facts =
        [
            ("centre frequency", info.Acquisition.FrequencyHz, 5e4, 2e8, "Hz"),
            ("velocity in the metal", info.Acquisition.VelocityMetresPerSecond, 500, 20000, "m/s"),
            ("shear velocity", info.Acquisition.ShearVelocityMetresPerSecond, 300, 15000, "m/s"),
            ("velocity in the couplant", info.Acquisition.CouplantVelocityMetresPerSecond, 100, 10000, "m/s"),
            ("nominal wall", info.Component.NominalWallMetres, 2e-4, 1, "m"),
        ];
        foreach (var (name, value, low, high, unit) in facts)
        {
            if (value is not { } v || (v >= low && v <= high))
                continue;
            yield return new(
                SanityCheck.FactUnit,
                SanitySeverity.Fault,
                Invariant($"The {name} is {v:G6} {unit}; {low:G3} to {high:G3} {unit} is possible."),
                "check its unit in the layout map or the file"
            );
        }
        // cL^2 - 4/3 cS^2 = K / density, and the bulk modulus K of a solid is positive (isotropic elasticity).
        if (
            info.Acquisition is { VelocityMetresPerSecond: { } along, ShearVelocityMetresPerSecond: { } across }
            && along * along <= 4.0 / 3.0 * across * across
        )
            yield return new(
                SanityCheck.MixedVelocities,
                SanitySeverity.Fault,
                Invariant(
                    $"The velocity in the metal is {along:G6} m/s with a shear velocity of {across:G6} m/s; in a solid it is more than 1.155 times as high."
                ),
                "give the longitudinal velocity as velocity: with the shear velocity in its place every wall reads far too thin"
            );
    }

    private static SanityFinding? RateUnit(StackInfo info, SpectrumFacts spectrum, bool rectified)
    {
        double? stated = info.Acquisition.FrequencyHz is { } f && f is >= 5e4 and <= 2e8 ? f : null;
        double ratio = stated is { } s ? spectrum.DominantHz / s : double.NaN;
        // Rectified samples ring at the frequency of their envelope, some tenths of the pulse's own down to hundredths.
        bool implausible = spectrum.DominantHz > 2e8 || spectrum.DominantHz < (rectified ? 2e3 : 5e4);
        bool contradicts = !rectified && ratio is < 0.1 or > 10;
        if (!implausible && !contradicts)
            return null;
        double target = stated ?? 5e6;
        double power = 3 * Math.Round(Math.Log10(target / spectrum.DominantHz) / 3);
        double rate = info.TimeBase.SampleRateHz;
        string against = stated is { } c ? Invariant($" against the stated {c / 1e6:G4} MHz") : "";
        return new(
            SanityCheck.TimeUnit,
            SanitySeverity.Fault,
            Invariant($"At the sample rate of {rate:G6} Hz the echoes ring at {spectrum.DominantHz:G4} Hz{against}."),
            power == 0
                ? "check the unit of the sample rate or sample interval"
                : Invariant(
                    $"the rate is off by a factor of 1e{power:0}: microseconds for seconds or megahertz for hertz; {rate * Math.Pow(10, power):G6} Hz would give {spectrum.DominantHz * Math.Pow(10, power) / 1e6:0.00} MHz"
                )
        );
    }

    private static SanityFinding? StartUnit(StackInfo info)
    {
        double length = info.Shape.Samples / info.TimeBase.SampleRateHz;
        double start = info.TimeBase.StartSeconds;
        if (info.TimeBase.BeamStartSeconds is { Count: > 0 } starts)
            start = starts.MaxBy(Math.Abs);
        // Ten milliseconds is 7 m of water one way; a record is never a thousandth of its own delay.
        if (Math.Abs(start) < 1e-2 && Math.Abs(start) < 1000 * length)
            return null;
        return new(
            SanityCheck.TimeUnit,
            SanitySeverity.Fault,
            Invariant($"The record of {length:G4} s starts {start:G6} s after the pulse."),
            Invariant($"the start is probably in microseconds: {start:G6} us = {start * 1e-6:G6} s")
        );
    }

    private static SanityFinding? HalfPath(StackInfo info, SpectrumFacts spectrum, double spacingSeconds)
    {
        List<string> evidence = [];
        double scale = double.NaN;
        if (info.Acquisition.FrequencyHz is { } stated)
        {
            double ratio = spectrum.DominantHz / stated;
            if (ratio is (> 1.6 and < 2.5) or (> 0.4 and < 0.6))
            {
                scale = ratio > 1 ? 0.5 : 2;
                evidence.Add(
                    Invariant(
                        $"the echoes ring at {spectrum.DominantHz / 1e6:0.00} MHz, {ratio:0.00} times the stated {stated / 1e6:0.00} MHz"
                    )
                );
            }
        }
        if (info.Component.NominalWallMetres is { } wall && !double.IsNaN(spacingSeconds))
        {
            double velocity = info.Acquisition.VelocityMetresPerSecond ?? SteelMetresPerSecond;
            double ratio = spacingSeconds * velocity / 2 / wall;
            if (ratio is (> 0.42 and < 0.58) or (> 1.8 and < 2.2))
            {
                double wallScale = ratio < 1 ? 0.5 : 2;
                // Two kinds of evidence that contradict each other prove nothing.
                if (!double.IsNaN(scale) && scale != wallScale)
                    return null;
                // A doubled wall alone is more often a skipped echo than a wrong time base.
                if (!double.IsNaN(scale) || wallScale < 1)
                {
                    scale = wallScale;
                    evidence.Add(
                        Invariant(
                            $"interface and wall echoes are {spacingSeconds * 1e6:0.000} us apart, {ratio:0.00} times a round trip through the nominal {wall * 1e3:0.00} mm at {velocity:0} m/s"
                        )
                    );
                }
            }
        }
        if (evidence.Count == 0)
            return null;
        return new(
            SanityCheck.HalfPath,
            evidence.Count > 1 ? SanitySeverity.Fault : SanitySeverity.Warning,
            "The time base is "
                + (scale < 1 ? "half" : "twice")
                + " what it should be: "
                + string.Join("; ", evidence)
                + ".",
            scale < 1
                ? "the times are one way (half path): give path = \"half\" in the layout map, which doubles them"
                : "the times are twice the round trip: halve the sample interval"
        );
    }

    private static SanityFinding? ShortRecord(StackInfo info, List<AScanFeatures> live, SpectrumFacts spectrum)
    {
        double? nominal = info.Component.NominalWallMetres;
        double velocity = info.Acquisition.VelocityMetresPerSecond ?? SteelMetresPerSecond;
        double rate = info.TimeBase.SampleRateHz;
        double pulse = 1 / spectrum.DominantHz;
        int judged = 0;
        int cut = 0;
        int spectra = live.Count(f => f.HasSpectrum);
        foreach (AScanFeatures f in live)
        {
            double wallSeconds = nominal is { } d ? 2 * d / velocity : f.RepeatLag / rate;
            if (double.IsNaN(wallSeconds))
                continue;
            judged++;
            if (f.Interface / rate + 2 * wallSeconds + pulse > info.Shape.Samples / rate)
                cut++;
        }
        // Without a nominal wall the wall is known from its own repeats only: most A-scans must show them, and agree.
        if (judged < 8 || cut < (nominal is null ? 0.7 : 0.5) * judged || (nominal is null && judged < 0.5 * spectra))
            return null;
        string basis = nominal is { } wall
            ? Invariant($"the nominal wall of {wall * 1e3:0.00} mm")
            : "the spacing of their echoes";
        return new(
            SanityCheck.ShortTimeBase,
            SanitySeverity.Warning,
            Invariant(
                $"By {basis}, {cut} of {judged} A-scans end before the second back-wall echo (record {info.Shape.Samples / rate * 1e6:0.00} us)."
            ),
            "record longer, or pair the interface echo with the first back-wall echo only"
        );
    }
}
