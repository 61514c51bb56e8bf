namespace EchoToThickness.Validation.Detection;

/// <summary>How probability of detection rises with the linear predictor.</summary>
public enum DetectionLink
{
    /// <summary>Log odds.</summary>
    Logit,

    /// <summary>Normal distribution.</summary>
    Probit,
}
