namespace EchoToThickness.Statistics.Spatial;

/// <summary>Direction of the lags.</summary>
public enum VariogramDirection
{
    /// <summary>Along the component.</summary>
    Along,

    /// <summary>Around the section.</summary>
    Around,

    /// <summary>One cell along for each cell around, both ways.</summary>
    Diagonal,
}
