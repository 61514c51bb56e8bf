namespace EchoToThickness.Procedures;

/// <summary>What a level is measured against.</summary>
public enum LevelReference
{
    /// <summary>Full scale of the digitiser: <c>"30 % of full scale"</c>.</summary>
    FullScale,

    /// <summary>The strongest signal inside the same window: <c>"-12 dB of strongest"</c>.</summary>
    Strongest,

    /// <summary>The measured noise (robust standard deviation of the conditioned signal): <c>"5 x noise"</c>.</summary>
    Noise,

    /// <summary>The amplitude of the echo that the gate follows (the interface, or an earlier gate's echo): <c>"-20 dB of followed"</c>.</summary>
    Followed,
}
