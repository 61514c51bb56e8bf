namespace EchoToThickness.Pairing;

/// <summary>Which rule decided a cell measured by its echo train; words in <see cref="TrainReasons"/>.</summary>
public enum TrainReason
{
    /// <summary>The best train was timed.</summary>
    Train,

    /// <summary>The interface was not recorded; the spacing of the back walls was timed.</summary>
    WallToWall,

    /// <summary>An early reflector is the wall, because the procedure expects pits.</summary>
    EarlyReflector,

    /// <summary>The whole record was searched coherently.</summary>
    CoherentComb,

    /// <summary>The whole record was searched incoherently, and the echo found was timed.</summary>
    IncoherentComb,

    /// <summary>A full wall was found behind a laminar reflector.</summary>
    FullWallBehindReflector,

    /// <summary>A reflector was found in front of the timed wall.</summary>
    ReflectorBeforeWall,

    /// <summary>A weak echo between or close to the neighbours' walls was accepted.</summary>
    SuppliedByNeighbours,

    /// <summary>Nothing stands over the noise.</summary>
    NothingOverNoise,

    /// <summary>No echo behind the interface can be a wall's.</summary>
    NoWallEcho,

    /// <summary>An early reflector is too weak to be believed and too strong to be ignored.</summary>
    EarlyReflectorDoubtful,

    /// <summary>The strongest wall-like echo is weaker than any wall.</summary>
    WeakerThanAnyWall,

    /// <summary>Coherent and incoherent search disagree.</summary>
    CombsDisagree,

    /// <summary>Neither search of the noisy record gives enough evidence.</summary>
    CombTooWeak,

    /// <summary>A first wall may hide under an echo of the couplant.</summary>
    MayHideBehindCouplant,

    /// <summary>The only echo lies where the couplant layer echoes.</summary>
    OnlyCouplantEcho,

    /// <summary>The chosen echo is too close to the noise.</summary>
    TooCloseToNoise,

    /// <summary>Two walls, neither of which repeats.</summary>
    TwoWallsWithoutRepeat,

    /// <summary>The best train explains too little.</summary>
    ExplainsTooLittle,

    /// <summary>Fewer than two echoes can be timed, the interface being cut off at the rails.</summary>
    InterfaceCutOff,

    /// <summary>Fewer than two echoes can be timed.</summary>
    NothingToPair,

    /// <summary>Echoes between the members show a wall thinner than echoes can be told apart.</summary>
    ThinnerThanResolved,

    /// <summary>The echoes of the best train are not evenly spaced.</summary>
    UnevenSpacing,

    /// <summary>Thicker than all neighbours, on weak evidence: a skipped wall.</summary>
    ThickerThanNeighbours,

    /// <summary>A pit's bottom and the wall around it are not resolved.</summary>
    UnresolvedPit,

    /// <summary>True neighbours made another of the cell's hypotheses the wall; its own echoes were timed.</summary>
    ChosenOverMap,

    /// <summary>True neighbours take the cell's reflector for one in front of the wall that its later echoes show.</summary>
    ReflectorOverMap,

    /// <summary>A thinner wall is likelier than the cell's own, but too few neighbours confirm it.</summary>
    DoubtfulOverMap,
}
