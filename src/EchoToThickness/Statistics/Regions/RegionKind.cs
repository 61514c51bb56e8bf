namespace EchoToThickness.Statistics.Regions;

/// <summary>Shape of a thin region.</summary>
public enum RegionKind
{
    /// <summary>Short and narrow.</summary>
    Pit,

    /// <summary>Long along, narrow around.</summary>
    AlongGroove,

    /// <summary>Short along, wide around.</summary>
    AroundGroove,

    /// <summary>Long and wide.</summary>
    General,
}
