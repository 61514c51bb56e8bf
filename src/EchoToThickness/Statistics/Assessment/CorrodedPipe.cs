namespace EchoToThickness.Statistics.Assessment;

/// <summary>Remaining strength of straight pipe with metal loss: B31G original, modified and effective area.</summary>
public static class CorrodedPipe
{
    private const double TenKsiPascals = 69e6;

    /// <summary>Original B31G, level 1 of the 2012 edition.</summary>
    /// <param name="pipe">Pipe and load.</param>
    /// <param name="depthMetres">Deepest loss.</param>
    /// <param name="lengthMetres">Axial length of the loss.</param>
    /// <remarks>
    /// Flow stress 1.1 SMYS, parabola of 2/3 d L, <c>M = sqrt(1 + 0.8 z)</c>, <c>z = L^2 / (D t)</c>; above z = 20 <c>1 - d/t</c>. The editions of
    /// 1991 (limit A = 4, z = 20.06) and 2012 (z = 20) differ between the two limits.
    /// </remarks>
    public static AssessmentResult<FailurePressure> Original(PipeLoad pipe, double depthMetres, double lengthMetres)
    {
        var basis = new AssessmentBasis(
            "ASME B31G-2012, level 1, original B31G",
            "Sf = 1.1 SMYS (1 - 2/3 d/t) / (1 - 2/3 d/t / M), M = sqrt(1 + 0.8 z), z = L^2/(D t); z > 20: Sf = 1.1 SMYS (1 - d/t)",
            false,
            "Formula seen in public reproductions, clause wording from memory"
        );
        if (Scope(pipe, depthMetres, lengthMetres) is { } refusal)
            return AssessmentResult<FailurePressure>.Refuse(basis, refusal);
        double d = depthMetres / pipe.WallMetres;
        double z = lengthMetres * lengthMetres / (pipe.OutsideDiameterMetres * pipe.WallMetres);
        double flow = 1.1 * pipe.YieldStrengthPascals;
        double bulging = Math.Sqrt(1 + 0.8 * z);
        double share = z <= 20 ? (1 - 2.0 / 3 * d) / (1 - 2.0 / 3 * d / bulging) : 1 - d;
        double area = z <= 20 ? 2.0 / 3 * depthMetres * lengthMetres : depthMetres * lengthMetres;
        return AssessmentResult<FailurePressure>.Of(
            Pressure(pipe, flow * share, flow, bulging, depthMetres, lengthMetres, area),
            basis
        );
    }

    /// <summary>Modified B31G (0.85 d L), level 1 of the 2012 edition.</summary>
    /// <param name="pipe">Pipe and load.</param>
    /// <param name="depthMetres">Deepest loss.</param>
    /// <param name="lengthMetres">Axial length of the loss.</param>
    /// <remarks>The published two-branch factor M jumps by 0.0074 at z = 50; it is reproduced as published.</remarks>
    public static AssessmentResult<FailurePressure> Modified(PipeLoad pipe, double depthMetres, double lengthMetres)
    {
        var basis = new AssessmentBasis(
            "ASME B31G-2012, level 1, modified B31G",
            "Sf = (SMYS + 69 MPa) (1 - 0.85 d/t) / (1 - 0.85 d/t / M), M = sqrt(1 + 0.6275 z - 0.003375 z^2) to z = 50, else 0.032 z + 3.3",
            false,
            "Formula seen in public reproductions, clause wording from memory"
        );
        if (Scope(pipe, depthMetres, lengthMetres) is { } refusal)
            return AssessmentResult<FailurePressure>.Refuse(basis, refusal);
        double d = 0.85 * depthMetres / pipe.WallMetres;
        double bulging = ModifiedBulging(pipe, lengthMetres);
        double flow = pipe.YieldStrengthPascals + TenKsiPascals;
        double stress = flow * (1 - d) / (1 - d / bulging);
        return AssessmentResult<FailurePressure>.Of(
            Pressure(pipe, stress, flow, bulging, depthMetres, lengthMetres, 0.85 * depthMetres * lengthMetres),
            basis
        );
    }

    /// <summary>Effective area, level 2: the least failure pressure over all parts of a profile of depth.</summary>
    /// <param name="pipe">Pipe and load.</param>
    /// <param name="positionsMetres">Shape [point], ascending.</param>
    /// <param name="depthsMetres">Shape [point], zero or more; negative depths are taken as zero.</param>
    /// <remarks>
    /// Trapezoidal area of the part over its own length, <c>(1 - A/A0) / (1 - A/(A0 M))</c>, <c>A0 = t L</c>, modified B31G factor and flow
    /// stress; every pair of points is tried (Kiefner and Vieth 1989). Cost: square of the points. Beyond 1500 points, runs of points are
    /// replaced by their deepest.
    /// </remarks>
    public static AssessmentResult<FailurePressure> EffectiveArea(
        PipeLoad pipe,
        ReadOnlySpan<double> positionsMetres,
        ReadOnlySpan<double> depthsMetres
    )
    {
        var basis = new AssessmentBasis(
            "ASME B31G-2012, level 2, effective area (Kiefner and Vieth 1989, PR 3-805)",
            "least over all parts of (SMYS + 69 MPa) (1 - A/(t L)) / (1 - A/(t L M))",
            false,
            "Method as described in public text, clause wording from memory"
        );
        if (positionsMetres.Length != depthsMetres.Length || positionsMetres.Length < 2)
            throw new ArgumentException("At least two points, one depth for each, are needed.", nameof(depthsMetres));
        double[] x = positionsMetres.ToArray();
        var depth = new double[x.Length];
        for (int k = 0; k < x.Length; k++)
        {
            if (!double.IsFinite(depthsMetres[k]) || (k > 0 && !(x[k] > x[k - 1])))
                throw new StatisticsException(
                    FormattableString.Invariant(
                        $"Point {k} of the profile: position {x[k]} m, depth {depthsMetres[k]} m."
                    ),
                    "depth profile",
                    "give ascending positions and finite depths; fill or cut unmeasured places knowingly"
                );
            depth[k] = Math.Max(0, depthsMetres[k]);
        }
        double length = x[^1] - x[0];
        if (Scope(pipe, depth.Max(), length) is { } refusal)
            return AssessmentResult<FailurePressure>.Refuse(basis, refusal);
        int group = 1 + x.Length / 1500;
        if (group > 1)
            (x, depth) = Thin(x, depth, group);
        double flow = pipe.YieldStrengthPascals + TenKsiPascals;
        double wall = pipe.WallMetres;
        var sums = new double[x.Length];
        for (int k = 1; k < x.Length; k++)
            sums[k] = sums[k - 1] + 0.5 * (depth[k] + depth[k - 1]) * (x[k] - x[k - 1]);
        double least = double.PositiveInfinity;
        int first = 0;
        int last = 0;
        for (int i = 0; i < x.Length; i++)
        for (int j = i + 1; j < x.Length; j++)
        {
            double part = x[j] - x[i];
            double lost = (sums[j] - sums[i]) / (wall * part);
            double share = (1 - lost) / (1 - lost / ModifiedBulging(pipe, part));
            if (share >= least)
                continue;
            least = share;
            first = i;
            last = j;
        }
        double effective = x[last] - x[first];
        return AssessmentResult<FailurePressure>.Of(
            Pressure(
                pipe,
                flow * least,
                flow,
                ModifiedBulging(pipe, effective),
                depth.Max(),
                effective,
                sums[last] - sums[first]
            ) with
            {
                FirstPoint = Math.Min(first * group, positionsMetres.Length - 1),
                LastPoint = Math.Min(last * group, positionsMetres.Length - 1),
            },
            basis
        );
    }

    /// <summary>Bulging factor of modified B31G.</summary>
    /// <param name="pipe">Pipe.</param>
    /// <param name="lengthMetres">Length.</param>
    public static double ModifiedBulging(PipeLoad pipe, double lengthMetres)
    {
        ArgumentNullException.ThrowIfNull(pipe);
        double z = lengthMetres * lengthMetres / (pipe.OutsideDiameterMetres * pipe.WallMetres);
        return z <= 50 ? Math.Sqrt(1 + 0.6275 * z - 0.003375 * z * z) : 0.032 * z + 3.3;
    }

    private static FailurePressure Pressure(
        PipeLoad pipe,
        double stress,
        double flow,
        double bulging,
        double depth,
        double length,
        double area
    )
    {
        double failure = 2 * stress * pipe.WallMetres / pipe.OutsideDiameterMetres;
        double sound = 2 * flow * pipe.WallMetres / pipe.OutsideDiameterMetres;
        return new FailurePressure(
            failure,
            Math.Min(failure, sound) / pipe.SafetyFactor,
            bulging,
            flow,
            depth,
            length,
            area
        );
    }

    private static (double[] X, double[] Depth) Thin(double[] x, double[] depth, int group)
    {
        var places = new List<double>();
        var deepest = new List<double>();
        for (int k = 0; k < x.Length; k += group)
        {
            places.Add(x[k]);
            deepest.Add(depth.AsSpan(k, Math.Min(group, x.Length - k)).ToArray().Max());
        }
        return (places.ToArray(), deepest.ToArray());
    }

    private static string? Scope(PipeLoad pipe, double depth, double length)
    {
        ArgumentNullException.ThrowIfNull(pipe);
        if (
            !(pipe.OutsideDiameterMetres > 2 * pipe.WallMetres)
            || !(pipe.WallMetres > 0)
            || !(pipe.YieldStrengthPascals > 0)
        )
            throw new StatisticsException(
                FormattableString.Invariant(
                    $"Diameter {pipe.OutsideDiameterMetres} m, wall {pipe.WallMetres} m, yield strength {pipe.YieldStrengthPascals} Pa."
                ),
                "pipe",
                "give all above zero, the diameter above two walls"
            );
        if (!(depth >= 0) || !(length >= 0))
            throw new StatisticsException(
                FormattableString.Invariant($"Depth {depth} m, length {length} m."),
                "metal loss",
                "give both zero or more"
            );
        if (pipe.Component != ComponentKind.StraightPipe)
            return $"B31G is written for straight pipe, not for {pipe.Component}.";
        if (!pipe.IsBluntMetalLoss)
            return "B31G is for blunt metal loss, not for cracks, mechanical damage or weld faults.";
        if (pipe.HasOtherLoads)
            return "B31G is for internal pressure alone; other loads need another method.";
        return depth > 0.8 * pipe.WallMetres
            ? FormattableString.Invariant(
                $"The loss of {depth / pipe.WallMetres:P0} of the wall exceeds 80 %, the limit of B31G: repair or replace."
            )
            : null;
    }
}
