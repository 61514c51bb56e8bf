namespace EchoToThickness.Validation.Budget;

/// <summary>Distribution of what is not known of an input (JCGM 101:2008, 6.4).</summary>
public enum InputShape
{
    /// <summary>Normal.</summary>
    Normal,

    /// <summary>Student's t, shifted and scaled: the mean of repeated readings (JCGM 101, 6.4.9).</summary>
    StudentT,

    /// <summary>Rectangular.</summary>
    Rectangular,

    /// <summary>Symmetric triangular.</summary>
    Triangular,

    /// <summary>Symmetric trapezoidal.</summary>
    Trapezoidal,

    /// <summary>Arc sine (U-shaped): a quantity that swings.</summary>
    ArcSine,
}
