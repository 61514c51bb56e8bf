namespace EchoToThickness.Statistics.Assessment;

/// <summary>Input of the general metal loss screening.</summary>
public sealed record ThicknessAveragingInput
{
    /// <summary>What it is.</summary>
    public required ComponentKind Component { get; init; }

    /// <summary>Inside diameter D, metres.</summary>
    public required double InsideDiameterMetres { get; init; }

    /// <summary>Required wall tmin along which the profile runs, metres.</summary>
    public required double RequiredWallMetres { get; init; }

    /// <summary>Future corrosion allowance FCA, metres.</summary>
    public double FutureAllowanceMetres { get; init; }

    /// <summary>Allowable remaining strength factor RSFa.</summary>
    public double AllowableStrengthFactor { get; init; } = 0.9;
}
