using System.Globalization;
using EchoToThickness.Geometry;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Velocity;

/// <summary>
/// Chooses the velocity (procedure value, then calibration points, then material, then the stack's own attribute), corrects it to
/// the part's temperature, and collects zero, coating, beam angle and curvature, each with its size.
/// </summary>
public static class VelocityResolver
{
    /// <summary>Relative standard uncertainty of a velocity that nobody gave one for.</summary>
    public const double UnstatedRelativeUncertainty = 0.005;

    /// <summary>Relative difference between two sources that is worth a warning.</summary>
    public const double DisagreementFraction = 0.001;

    private sealed record Candidate(string Name, double MetresPerSecond, double RelativeUncertainty);

    /// <summary>Resolves the velocity of a procedure on a stack.</summary>
    /// <param name="procedure">A consistent procedure.</param>
    /// <param name="stack">The stack.</param>
    /// <exception cref="ProcedureException">No velocity from any source, an unknown material, unusable calibration points, missing facts.</exception>
    public static ResolvedVelocity Resolve(Procedure procedure, StackInfo stack)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        ArgumentNullException.ThrowIfNull(stack);
        VelocitySettings settings = procedure.Velocity;
        var warnings = new List<string>();
        var corrections = new List<string>();
        VelocityCalibration? calibration = Calibrate(procedure, warnings);
        Material? material = settings.Material.Length > 0 ? MaterialTable.Find(settings.Material) : null;
        Candidate[] candidates = Candidates(settings, stack, calibration, material);
        if (candidates.Length == 0)
            throw new ProcedureException(
                $"Neither the procedure nor {stack.Name} gives a velocity.",
                "key velocity",
                "write velocity.value, calibration points or velocity.material, or the velocity attribute of the stack."
            );
        Candidate chosen = candidates[0];
        if (chosen.MetresPerSecond is not (>= 500 and <= 20000))
            throw new ProcedureException(
                Line(
                    $"The {chosen.Name} gives a velocity of {chosen.MetresPerSecond:G6} m/s; metals have 500 to 20000 m/s."
                ),
                "key velocity",
                "give velocity.value, or correct the velocity of the stack (it must be in metres per second)."
            );
        Compare(candidates, warnings);
        bool calibrated = calibration is not null && settings.ValueMetresPerSecond is null;

        double referenceUncertainty =
            settings.UncertaintyMetresPerSecond ?? chosen.RelativeUncertainty * chosen.MetresPerSecond;
        double wall =
            procedure.Wall.NominalMetres
            ?? stack.Component.NominalWallMetres
            ?? (procedure.Wall.MinimumMetres + procedure.Wall.MaximumMetres) / 2;
        (double shift, double temperatureUncertainty) = Temperature(procedure, stack, material, warnings);
        double velocity = chosen.MetresPerSecond + shift;
        if (shift != 0)
            corrections.Add(
                Line(
                    $"temperature: velocity {shift:+0.##;-0.##} m/s, wall {1e3 * wall * shift / velocity:+0.####;-0.####} mm at {1e3 * wall:0.###} mm"
                )
            );

        CorrectionSettings correction = procedure.Correction;
        double zero = calibrated ? calibration!.ZeroSeconds : correction.ZeroSeconds;
        double zeroUncertainty = calibrated ? calibration!.ZeroUncertaintySeconds : correction.ZeroUncertaintySeconds;
        if (zero != 0)
            corrections.Add(
                Line(
                    $"zero: {1e9 * zero:0.###} ns subtracted from interface-to-wall times, wall {-0.5e3 * velocity * zero:+0.####;-0.####} mm"
                )
            );
        (double coating, double coatingUncertainty) = Coating(correction, velocity, corrections, warnings);
        double path = Path(correction, stack, wall, corrections);
        double covariance = 0;
        if (calibrated)
        {
            // A stated uncertainty replaces the fitted one; the correlation with the zero stays as fitted.
            double scale = referenceUncertainty / calibration!.UncertaintyMetresPerSecond;
            covariance = double.IsFinite(scale) ? calibration.VelocityZeroCovariance * scale : 0;
        }
        return new ResolvedVelocity
        {
            MetresPerSecond = velocity,
            UncertaintyMetresPerSecond = Math.Sqrt(
                referenceUncertainty * referenceUncertainty + temperatureUncertainty * temperatureUncertainty
            ),
            ReferenceMetresPerSecond = chosen.MetresPerSecond,
            ReferenceUncertaintyMetresPerSecond = referenceUncertainty,
            TemperatureUncertaintyMetresPerSecond = temperatureUncertainty,
            ZeroSeconds = zero,
            ZeroUncertaintySeconds = zeroUncertainty,
            VelocityZeroCovariance = covariance,
            CoatingSeconds = coating,
            CoatingUncertaintySeconds = coatingUncertainty,
            PathFactor = path,
            Source = chosen.Name,
            Calibration = calibration,
            Corrections = corrections,
            Warnings = warnings,
        };
    }

    private static VelocityCalibration? Calibrate(Procedure procedure, List<string> warnings)
    {
        IReadOnlyList<CalibrationPoint> points = procedure.Velocity.Calibration;
        if (points.Count == 0)
            return null;
        CorrectionSettings correction = procedure.Correction;
        if (points.Count == 1)
        {
            warnings.Add(
                "velocity.calibration: one step gives the velocity only; the zero offset is taken from correction.zero."
            );
            return VelocityCalibration.FromOneStep(
                points[0],
                correction.ZeroSeconds,
                correction.ZeroUncertaintySeconds
            );
        }
        VelocityCalibration fit = VelocityCalibration.Fit(points);
        if (fit.ChiSquareProbability < 0.05)
            warnings.Add(
                Line(
                    $"velocity.calibration: residuals are larger than the stated uncertainties (chi-square {fit.ChiSquare:0.##}, {fit.DegreesOfFreedom} degrees of freedom); uncertainties were widened by {fit.Widening:0.##}. Look for a skipped cycle."
                )
            );
        if (procedure.Wall.NominalMetres is { } wall && (wall < fit.ThinnestMetres || wall > fit.ThickestMetres))
            warnings.Add(
                Line(
                    $"velocity.calibration: the nominal wall {1e3 * wall:0.###} mm lies outside the calibrated {1e3 * fit.ThinnestMetres:0.###} to {1e3 * fit.ThickestMetres:0.###} mm."
                )
            );
        return fit;
    }

    private static Candidate[] Candidates(
        VelocitySettings settings,
        StackInfo stack,
        VelocityCalibration? calibration,
        Material? material
    )
    {
        var found = new List<Candidate>();
        if (settings.ValueMetresPerSecond is { } value)
            found.Add(new Candidate("procedure (velocity.value)", value, UnstatedRelativeUncertainty));
        if (calibration is not null)
            found.Add(
                new Candidate(
                    Line(
                        $"calibration on {settings.Calibration.Count} step{(settings.Calibration.Count == 1 ? "" : "s")}"
                    ),
                    calibration.MetresPerSecond,
                    calibration.UncertaintyMetresPerSecond / calibration.MetresPerSecond
                )
            );
        if (material is not null)
            found.Add(
                new Candidate(
                    $"material '{material.Name}' ({material.Longitudinal.Source}{(material.Longitudinal.FromMemory ? ", value from memory" : "")})",
                    material.Longitudinal.Value,
                    material.Longitudinal.RelativeUncertainty
                )
            );
        if (stack.Acquisition.VelocityMetresPerSecond is { } attribute)
            found.Add(
                new Candidate(
                    $"attribute of {System.IO.Path.GetFileName(stack.Name)}",
                    attribute,
                    UnstatedRelativeUncertainty
                )
            );
        return found.ToArray();
    }

    private static void Compare(Candidate[] candidates, List<string> warnings)
    {
        Candidate chosen = candidates[0];
        foreach (Candidate other in candidates.Skip(1))
        {
            double relative = (other.MetresPerSecond - chosen.MetresPerSecond) / chosen.MetresPerSecond;
            if (Math.Abs(relative) > DisagreementFraction)
                warnings.Add(
                    Line(
                        $"velocity: {chosen.Name} gives {chosen.MetresPerSecond:0.##} m/s and is used; {other.Name} gives {other.MetresPerSecond:0.##} m/s ({100 * relative:+0.##;-0.##} %)."
                    )
                );
        }
    }

    private static (double Shift, double Uncertainty) Temperature(
        Procedure procedure,
        StackInfo stack,
        Material? material,
        List<string> warnings
    )
    {
        VelocitySettings settings = procedure.Velocity;
        double part =
            settings.PartTemperatureCelsius
            ?? stack.Acquisition.TemperatureCelsius
            ?? settings.ReferenceTemperatureCelsius;
        double difference = part - settings.ReferenceTemperatureCelsius;
        if (
            difference != 0
            && material is { IsCarbonSteel: false }
            && settings.TemperatureCoefficient == new VelocitySettings().TemperatureCoefficient
        )
            warnings.Add(
                $"velocity.temperature_coefficient: the default belongs to low-carbon steel, the material is '{material.Name}'."
            );
        if (part is < 0 or > 50 && difference != 0)
            warnings.Add(
                Line(
                    $"velocity.temperature_coefficient: the linear law was measured from 0 to 50 degC, the part is at {part:0.#} degC."
                )
            );
        double byTemperature = settings.TemperatureCoefficient * settings.TemperatureUncertaintyKelvin;
        double byCoefficient = difference * settings.TemperatureCoefficientUncertainty;
        return (
            settings.TemperatureCoefficient * difference,
            Math.Sqrt(byTemperature * byTemperature + byCoefficient * byCoefficient)
        );
    }

    private static (double Seconds, double Uncertainty) Coating(
        CorrectionSettings correction,
        double velocity,
        List<string> corrections,
        List<string> warnings
    )
    {
        if (correction.CoatingThicknessMetres == 0)
            return (0, 0);
        double seconds = 2 * correction.CoatingThicknessMetres / correction.CoatingVelocityMetresPerSecond;
        double byThickness =
            2 * correction.CoatingThicknessUncertaintyMetres / correction.CoatingVelocityMetresPerSecond;
        double byVelocity =
            seconds * correction.CoatingVelocityUncertaintyMetresPerSecond / correction.CoatingVelocityMetresPerSecond;
        corrections.Add(
            Line(
                $"coating: {1e9 * seconds:0.#} ns subtracted from interface-to-wall times, wall {-0.5e3 * velocity * seconds:+0.####;-0.####} mm"
            )
        );
        if (byThickness == 0 && byVelocity == 0)
            warnings.Add("correction.coating_thickness: no uncertainty is given for the coating; it counts as exact.");
        return (seconds, Math.Sqrt(byThickness * byThickness + byVelocity * byVelocity));
    }

    private static double Path(CorrectionSettings correction, StackInfo stack, double wall, List<string> corrections)
    {
        double path = Math.Cos(correction.BeamAngleRadians);
        if (correction.BeamAngleRadians != 0)
            corrections.Add(
                Line(
                    $"beam angle: {UnitText.Format(correction.BeamAngleRadians, Dimension.Angle)}, path times {path:0.######}, wall {1e3 * wall * (path - 1):+0.####;-0.####} mm at {1e3 * wall:0.###} mm"
                )
            );
        if (!correction.Curvature)
            return path;
        if (
            (correction.ApertureMetres ?? stack.Acquisition.ApertureMetres) is not { } aperture
            || stack.Component.OutsideDiameterMetres is not { } diameter
            || wall >= diameter / 2
            || aperture > diameter
        )
            throw new ProcedureException(
                $"The curvature correction needs aperture and outside diameter, and a wall and aperture that fit the pipe; {stack.Name} does not give them.",
                "key correction.curvature",
                "complete the stack or its layout map, or switch the correction off."
            );
        double excess = new PipeSection(diameter, wall).MeanPathExcess(aperture);
        corrections.Add(
            Line(
                $"curvature: mean path times {1 / (1 + excess):0.######}, wall {-1e3 * wall * excess:+0.####;-0.####} mm at {1e3 * wall:0.###} mm"
            )
        );
        return path / (1 + excess);
    }

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
