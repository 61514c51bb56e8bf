namespace EchoToThickness.Procedures;

/// <summary>Where an estimator looks for the wall.</summary>
public enum EstimationSearch
{
    /// <summary>About the wall that the train rule decided on.</summary>
    [Choice("train", "Within a period of the wall that the train rule decided on; cells that it refuses stay refused.")]
    Train,

    /// <summary>In the whole range of walls.</summary>
    [Choice("wall", "In the whole range of [wall]: the estimator alone decides which echo is the wall.")]
    Wall,
}
