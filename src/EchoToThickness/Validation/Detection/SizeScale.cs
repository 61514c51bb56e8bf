namespace EchoToThickness.Validation.Detection;

/// <summary>The axis on which detection or signal is linear.</summary>
public enum SizeScale
{
    /// <summary>Natural logarithm of the size.</summary>
    Logarithmic,

    /// <summary>The size itself.</summary>
    Linear,
}
