namespace EchoToThickness.Pairing;

/// <summary>Words for <see cref="TrainReason"/> values.</summary>
public static class TrainReasons
{
    /// <summary>A sentence for people.</summary>
    /// <param name="reason">A reason.</param>
    public static string Describe(TrainReason reason) =>
        reason switch
        {
            TrainReason.Train => "the best train explains the A-scan; its spacing was timed",
            TrainReason.WallToWall =>
                "the interface echo was not recorded; back-wall echoes were timed against each other",
            TrainReason.EarlyReflector =>
                "a reflector in front of the strongest wall is taken for the wall, because the procedure expects pits",
            TrainReason.CoherentComb => "no echo stands well over the noise; all multiples of one spacing together do",
            TrainReason.IncoherentComb =>
                "no echo stands well over the noise; one spacing collects far more energy than any other",
            TrainReason.FullWallBehindReflector => "the full wall was found behind a laminar reflector",
            TrainReason.ReflectorBeforeWall => "a reflector lies in front of the wall that was timed",
            TrainReason.SuppliedByNeighbours => "a weak echo was accepted because it fits the walls of true neighbours",
            TrainReason.NothingOverNoise => "nothing stands over the noise",
            TrainReason.NoWallEcho => "no echo behind the interface can be a wall's",
            TrainReason.EarlyReflectorDoubtful =>
                "a reflector in front of the wall is too weak to be believed and too strong to be ignored",
            TrainReason.WeakerThanAnyWall =>
                "the strongest wall-like echo is weaker, against the interface, than the procedure believes of any wall",
            TrainReason.CombsDisagree => "coherent and incoherent search of the noisy record disagree",
            TrainReason.CombTooWeak => "neither search of the noisy record gives enough evidence",
            TrainReason.MayHideBehindCouplant => "a first wall may hide under an echo of the couplant layer",
            TrainReason.OnlyCouplantEcho => "the only echo lies where the couplant layer echoes",
            TrainReason.TooCloseToNoise => "the echo is too close to the noise to be believed",
            TrainReason.TwoWallsWithoutRepeat => "two echoes could each be the wall, and neither repeats",
            TrainReason.ExplainsTooLittle => "the best train leaves too much of the A-scan unexplained",
            TrainReason.InterfaceCutOff =>
                "the interface is cut off at the rails and only one back-wall echo can be timed",
            TrainReason.NothingToPair => "only one echo can be timed",
            TrainReason.ThinnerThanResolved =>
                "clear echoes between those of the best train: it is a multiple of a wall too thin for its echoes to be told apart",
            TrainReason.UnevenSpacing =>
                "the echoes of the best train are not evenly spaced: they do not belong to one wall",
            TrainReason.ThickerThanNeighbours =>
                "thicker than all neighbours on the evidence of a weak echo: probably a skipped wall",
            TrainReason.UnresolvedPit => "a pit's bottom and the wall around it lie too close together to be resolved",
            TrainReason.ChosenOverMap =>
                "true neighbours made another of the cell's hypotheses the wall; its own echoes were timed",
            TrainReason.ReflectorOverMap =>
                "true neighbours take the first reflector for one in front of the wall that later echoes show",
            TrainReason.DoubtfulOverMap =>
                "a thinner wall is likelier than the A-scan's own, but too few neighbours confirm it",
            _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Unknown reason."),
        };

    /// <summary>Status that goes with a reason.</summary>
    /// <param name="reason">A reason.</param>
    public static CellStatus StatusOf(TrainReason reason) =>
        reason switch
        {
            TrainReason.Train
            or TrainReason.WallToWall
            or TrainReason.EarlyReflector
            or TrainReason.CoherentComb
            or TrainReason.IncoherentComb
            or TrainReason.SuppliedByNeighbours
            or TrainReason.ChosenOverMap => CellStatus.Measured,
            TrainReason.FullWallBehindReflector or TrainReason.ReflectorBeforeWall or TrainReason.ReflectorOverMap =>
                CellStatus.LaminarReflector,
            TrainReason.NothingOverNoise => CellStatus.NoInterfaceEcho,
            TrainReason.NoWallEcho => CellStatus.NoBackWallEcho,
            TrainReason.WeakerThanAnyWall or TrainReason.CombTooWeak or TrainReason.TooCloseToNoise =>
                CellStatus.LowSignalToNoise,
            TrainReason.InterfaceCutOff => CellStatus.Saturated,
            _ => CellStatus.AmbiguousPairing,
        };
}
