namespace EchoToThickness.Components;

/// <summary>Which value a cell of the component takes where several measured cells fall into it.</summary>
public enum StitchRule
{
    /// <summary>The smallest wall: cautious; noise makes it thinner than the metal.</summary>
    Smallest,

    /// <summary>The one least likely to be a wrong echo, then of the highest signal-to-noise ratio, then of the smallest uncertainty.</summary>
    BestQuality,

    /// <summary>The mean weighted by the inverse square of the independent uncertainty.</summary>
    Weighted,

    /// <summary>That of the last line.</summary>
    Last,
}
