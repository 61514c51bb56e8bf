namespace EchoToThickness.Statistics.Assessment;

/// <summary>Minimum required wall under internal pressure by ASME B31.3.</summary>
public static class PressureDesign
{
    private const string Edition = "ASME B31.3-2016";

    /// <summary>Straight pipe, paragraph 304.1.2 (a), equation (3a).</summary>
    /// <param name="input">Input.</param>
    /// <returns>Refused where the equation does not hold: t not below D/6, or P/(S E) above 0.385.</returns>
    /// <exception cref="StatisticsException">A quantity is not above zero.</exception>
    public static AssessmentResult<RequiredWall> StraightPipe(PressureDesignInput input)
    {
        var basis = new AssessmentBasis(
            $"{Edition}, 304.1.2 eq. (3a)",
            "t = P D / (2 (S E W + P Y)); tm = t + c",
            true
        );
        Check(input);
        return Wall(input, 1, basis);
    }

    /// <summary>Pipe bend after bending, paragraph 304.2.1, equations (3c) to (3e).</summary>
    /// <param name="input">Input.</param>
    /// <param name="bendRadiusMetres">Radius of the centreline R1.</param>
    /// <param name="place">Place around the section.</param>
    /// <returns>Refused where R1/D does not exceed 0.5, and where the straight equation does not hold.</returns>
    public static AssessmentResult<RequiredWall> Bend(
        PressureDesignInput input,
        double bendRadiusMetres,
        BendPlace place
    )
    {
        var basis = new AssessmentBasis(
            $"{Edition}, 304.2.1 eqs. (3c)-(3e)",
            "t = P D / (2 (S E W / I + P Y)); I = (4 R1/D - 1) / (4 R1/D - 2) at the intrados, (4 R1/D + 1) / (4 R1/D + 2) at the extrados, 1 at the crown",
            true,
            "At the mid-span of the bend; towards the ends I goes to 1"
        );
        Check(input);
        double ratio = bendRadiusMetres / input.OutsideDiameterMetres;
        if (!(ratio > 0.5))
            return AssessmentResult<RequiredWall>.Refuse(
                basis,
                FormattableString.Invariant(
                    $"The bend radius is {ratio:0.###} diameters; at half a diameter the intrados vanishes."
                )
            );
        double index = place switch
        {
            BendPlace.Intrados => (4 * ratio - 1) / (4 * ratio - 2),
            BendPlace.Extrados => (4 * ratio + 1) / (4 * ratio + 2),
            _ => 1,
        };
        return Wall(input, index, basis);
    }

    private static AssessmentResult<RequiredWall> Wall(PressureDesignInput input, double index, AssessmentBasis basis)
    {
        double strength = input.AllowableStressPascals * input.QualityFactor;
        double wall =
            input.PressurePascals
            * input.OutsideDiameterMetres
            / (2 * (strength * input.WeldReductionFactor / index + input.PressurePascals * input.CoefficientY));
        if (wall >= input.OutsideDiameterMetres / 6 || input.PressurePascals / strength > 0.385)
            return AssessmentResult<RequiredWall>.Refuse(
                basis,
                FormattableString.Invariant(
                    $"t = {wall * 1e3:0.00} mm is not below D/6 = {input.OutsideDiameterMetres / 6e-3:0.00} mm, or P/(S E) = {input.PressurePascals / strength:0.000} exceeds 0.385: 304.1.2 (b) asks for special consideration."
                )
            );
        double total = wall + input.AllowanceMetres;
        return AssessmentResult<RequiredWall>.Of(
            new RequiredWall(wall, total, total / (1 - input.MinusToleranceFraction), index),
            basis
        );
    }

    private static void Check(PressureDesignInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        bool good =
            input.PressurePascals > 0
            && input.OutsideDiameterMetres > 0
            && input.AllowableStressPascals > 0
            && input.QualityFactor is > 0 and <= 1
            && input.WeldReductionFactor is > 0 and <= 1
            && input.CoefficientY is >= 0 and <= 1
            && input.AllowanceMetres >= 0
            && input.MinusToleranceFraction is >= 0 and < 1;
        if (!good)
            throw new StatisticsException(
                FormattableString.Invariant(
                    $"Pressure {input.PressurePascals} Pa, diameter {input.OutsideDiameterMetres} m, stress {input.AllowableStressPascals} Pa, E {input.QualityFactor}, W {input.WeldReductionFactor}, Y {input.CoefficientY}, c {input.AllowanceMetres} m, minus tolerance {input.MinusToleranceFraction}."
                ),
                "pressure design input",
                "give pressure, diameter and stress above zero, factors between 0 and 1, an allowance of zero or more"
            );
    }
}
