namespace EchoToThickness.Validation.Accuracy;

/// <summary>Which ends a tolerance interval has.</summary>
public enum ToleranceSide
{
    /// <summary>Lower and upper limit.</summary>
    Both,

    /// <summary>Lower limit only.</summary>
    Lower,

    /// <summary>Upper limit only.</summary>
    Upper,
}
