namespace EchoToThickness.Statistics.Spatial;

/// <summary>How the squared differences of a lag are averaged.</summary>
public enum VariogramEstimator
{
    /// <summary>Half the mean square (Matheron 1963).</summary>
    Classical,

    /// <summary>Fourth power of the mean root, corrected (Cressie and Hawkins 1980): a few wild cells matter less.</summary>
    Robust,
}
