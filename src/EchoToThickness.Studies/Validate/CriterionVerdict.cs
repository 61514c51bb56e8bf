namespace EchoToThickness.Studies.Validate;

/// <summary>What became of a criterion.</summary>
public enum CriterionVerdict
{
    /// <summary>The unfavourable end of the interval meets the limit.</summary>
    Pass,

    /// <summary>It does not.</summary>
    Fail,

    /// <summary>No interval can be given.</summary>
    NotEnoughData,
}
