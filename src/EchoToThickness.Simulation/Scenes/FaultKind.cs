using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>What goes wrong.</summary>
public enum FaultKind
{
    /// <summary>the wheel slips: positions behind 'at' read too little by 'size'</summary>
    [Choice("encoder slip", "the wheel slips: positions behind 'at' read too little by 'size'")]
    EncoderSlip,

    /// <summary>the wheel spins: the encoder counts 'size' while the array stands, so positions repeat</summary>
    [Choice("encoder spin", "the wheel spins: the encoder counts 'size' while the array stands, so positions repeat")]
    EncoderSpin,

    /// <summary>the scan goes back by 'size' at 'at' and forward again: positions are visited twice</summary>
    [Choice("reversal", "the scan goes back by 'size' at 'at' and forward again: positions are visited twice")]
    Reversal,

    /// <summary>the line is a second scan of the line before it</summary>
    [Choice("duplicate line", "the line is a second scan of the line before it")]
    DuplicateLine,

    /// <summary>the array was not moved as far as it says: the line lies 'size' short of its index</summary>
    [Choice("missed index", "the array was not moved as far as it says: the line lies 'size' short of its index")]
    MissedIndex,

    /// <summary>scan positions from 'at' over 'size' were not recorded</summary>
    [Choice("dropped scans", "scan positions from 'at' over 'size' were not recorded")]
    DroppedScans,

    /// <summary>gain changes by 'level' from 'at' over 'size'</summary>
    [Choice("gain step", "gain changes by 'level' from 'at' over 'size'")]
    GainStep,

    /// <summary>the first back-wall echo is lowered by 'level': the second is taken for it</summary>
    [Choice("weak back wall", "the first back-wall echo is lowered by 'level': the second is taken for it")]
    WeakBackWall,

    /// <summary>a mode-converted echo of 'level' against the first back wall, at (1 + c_L / c_S) / 2 times the wall</summary>
    [Choice(
        "mode conversion",
        "a mode-converted echo of 'level' against the first back wall, at (1 + c_L / c_S) / 2 times the wall"
    )]
    ModeConversion,

    /// <summary>the interface echo rings on, 'level' against its peak</summary>
    [Choice("ring-down", "the interface echo rings on, 'level' against its peak")]
    RingDown,

    /// <summary>back-wall echoes have the sign of a bonded or wet inner surface</summary>
    [Choice("polarity flip", "back-wall echoes have the sign of a bonded or wet inner surface")]
    PolarityFlip,

    /// <summary>the interface echo is raised by 'level', beyond full scale</summary>
    [Choice("saturated interface", "the interface echo is raised by 'level', beyond full scale")]
    SaturatedInterface,

    /// <summary>no sound enters: the A-scan holds noise</summary>
    [Choice("interface lost", "no sound enters: the A-scan holds noise")]
    InterfaceLost,

    /// <summary>an interference spike of 'level' against full scale</summary>
    [Choice("spike", "an interference spike of 'level' against full scale")]
    Spike,
}
