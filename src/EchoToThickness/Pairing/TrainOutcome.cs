namespace EchoToThickness.Pairing;

/// <summary>What the echo train of one A-scan gave, before metres. Positions and spacings in samples of the record, amplitudes as fractions of full scale.</summary>
public struct TrainOutcome
{
    /// <summary>Which rule decided.</summary>
    public TrainReason Reason;

    /// <summary>The hypothesis decided on; its interface is <see cref="TrainHypothesis.NoInterface"/> when none was found.</summary>
    public TrainHypothesis Train;

    /// <summary>Whether <see cref="Train"/> was set.</summary>
    public bool HasTrain;

    /// <summary>Round trip of one wall, seconds; NaN when nothing was measured.</summary>
    public double SpacingSeconds;

    /// <summary>Standard uncertainty of it from noise, seconds.</summary>
    public double SpacingUncertaintySeconds;

    /// <summary>Mean squared residual of even spacing; NaN under three points.</summary>
    public double ChiSquare;

    /// <summary>Share of the spacing that rests on the interface's own time, 0 to 1.</summary>
    public double InterfaceShare;

    /// <summary>Distance of a reflector in front of the wall from the interface, seconds; NaN when none.</summary>
    public double ReflectorSeconds;

    /// <summary>Order of the first echo timed (0 the interface).</summary>
    public int FirstOrder;

    /// <summary>Order of the last echo timed.</summary>
    public int LastOrder;

    /// <summary>Back-wall echoes timed.</summary>
    public int WallEchoes;

    /// <summary>Candidate of the first back-wall echo timed; -1 when none.</summary>
    public int FirstWall;

    /// <summary>Candidate of the second back-wall echo timed; -1 when none.</summary>
    public int SecondWall;

    /// <summary>Interface to back-wall echo 1, seconds; NaN when not both timed.</summary>
    public double InterfaceToWallSeconds;

    /// <summary>Back-wall echo 1 to the next, over the difference of orders, seconds; NaN when not both timed.</summary>
    public double WallToWallSeconds;

    /// <summary>Peak-to-noise ratio of the echo that carries the wall.</summary>
    public double SignalRatio;

    /// <summary>Strength of that echo against the interface, decibels; against the first wall when the interface is missing.</summary>
    public double RelativeDecibels;

    /// <summary>Score or evidence above the runner-up's, in the units of the rule that decided.</summary>
    public double Lead;

    /// <summary>Spacing of the runner-up, samples; NaN when none.</summary>
    public double RunnerUpSamples;

    /// <summary>Whether a wall was measured.</summary>
    public readonly bool IsMeasured => !double.IsNaN(SpacingSeconds);

    /// <summary>An outcome in which nothing was measured.</summary>
    /// <param name="reason">Why not.</param>
    public static TrainOutcome None(TrainReason reason) =>
        new()
        {
            Reason = reason,
            Train = new TrainHypothesis { Interface = TrainHypothesis.NoInterface },
            SpacingSeconds = double.NaN,
            SpacingUncertaintySeconds = double.NaN,
            ChiSquare = double.NaN,
            ReflectorSeconds = double.NaN,
            InterfaceToWallSeconds = double.NaN,
            WallToWallSeconds = double.NaN,
            FirstWall = -1,
            SecondWall = -1,
            SignalRatio = double.NaN,
            RelativeDecibels = double.NaN,
            RunnerUpSamples = double.NaN,
        };
}
